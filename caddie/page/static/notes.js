// Notes: what is remembered of holes, the player's own words, and telling more of both.
import { answered, ask, button, byId, el } from "./dom.js";
import { get, notice, post } from "./wire.js";

const typed = {};

export async function showNotes() {
  draw(await get("/api/notes"));
}

function draw(notes) {
  byId("notes").replaceChildren(
    el("h2", { id: "notes-title", tabindex: -1 }, "Notes"),
    notes.note ? el("p", { css: "note" }, notes.note) : "",
    notes.told ? el("p", { css: "answered", role: "status" }, notes.told) : "",
    ...(notes.on ? parts(notes) : []),
  );
}

function parts(notes) {
  return [
    el("p", { css: "quiet" }, "What holds for a hole on every day, as seen from the fairway. In the talk say “remember, the fourth green falls left to right”."),
    ...notes.courses.flatMap(course),
    el("h3", {}, "Tell of a hole"),
    form(
      "/api/notes/hole",
      (told) => ({ course: told.get("course").trim(), hole: Number(told.get("hole")), text: told.get("text").trim() }),
      field("course", "Course", { type: "text", maxlength: 40, value: notes.course }),
      field("hole", "Hole", { type: "number", min: 1, max: notes.most_holes, required: true, inputmode: "numeric" }),
      field("text", "What to remember", { type: "text", maxlength: 200, required: true, placeholder: "falls left to right, 28 deep" }),
      "Remember it",
    ),
    el("h3", {}, "Words of your own"),
    notes.words.length ? el("ul", { css: "options" }, ...notes.words.map(word)) : el("p", { css: "quiet" }, "None yet."),
    form(
      "/api/notes/word",
      (told) => ({ word: told.get("word").trim(), means: told.get("means").trim() }),
      field("word", "Word", { type: "text", maxlength: 40, required: true, placeholder: "badlands" }),
      field("means", "Means", { type: "text", maxlength: 80, required: true, placeholder: "heavy rough" }),
      "",
      "Teach it",
    ),
    notes.usual.length ? el("p", { css: "quiet" }, `Usual: ${notes.usual.join(", ")}.`) : "",
    notes.out.length ? el("p", { css: "quiet" }, `Not there today: ${notes.out.join(", ")}.`) : "",
    el("div", { css: "actions" }, button("Undo the last change of the notes", () => change("/api/notes/undo", {}))),
  ];
}

// What is typed stays until it was taken, whatever happens to the page meanwhile.
function field(name, label, attributes) {
  const input = el("input", { id: `note-${name}`, name, ...attributes, on: { input: () => (typed[name] = input.value) } });
  if (name in typed) input.value = typed[name];
  return [el("label", { for: `note-${name}` }, label), input];
}

function form(path, body, one, two, three, does) {
  const done = (event) => {
    event.preventDefault();
    change(path, body(new FormData(event.target)));
  };
  return el("form", { on: { submit: done } }, ...one, ...two, ...three, el("button", { type: "submit", css: "main" }, does));
}

function course(each) {
  return [
    el("h3", {}, each.name),
    el("ul", { css: "options" }, ...each.holes.map((hole) =>
      el("li", {},
        el("p", {}, el("strong", {}, `${hole.number}${hole.name ? ` ${hole.name}` : ""}`), " ", hole.facts),
        button("Erase", () => sure(`Erase hole ${hole.number} of ${each.name} for good?`, { course: hole.course, hole: hole.number }), "",
          { "aria-label": `Erase hole ${hole.number} of ${each.name}` })))),
    el("p", {}, el("a", { href: `/paper/course?of=${encodeURIComponent(each.name)}`, target: "_blank", rel: "noopener" }, `${each.name} as a page to print`)),
  ];
}

const word = (each) =>
  el("li", {}, el("p", {}, el("strong", {}, each.word), ` means ${each.means}`),
    button("Erase", () => sure(`Erase the word “${each.word}” for good?`, { word: each.word }), "", { "aria-label": `Erase the word ${each.word}` }));

function sure(question, body) {
  ask(question, button("Erase it", () => (answered(), change("/api/notes/forget", body)), "bad"));
}

async function change(path, body) {
  try {
    const found = await post(path, body);
    notice("");
    if (found.asks) {
      ask(found.asks, button("Yes, teach it", () => (answered(), change(path, { ...body, sure: true })), "main"));
      return;
    }
    for (const name of Object.keys(body)) delete typed[name];
    draw(found);
  } catch (error) {
    notice(error.message);
  }
}
