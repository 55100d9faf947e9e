// The talk: what was said, the facts to tap, the shot with its odds, and what else could be played.
import { answered, ask, button, byId, el, percent, picture } from "./dom.js";
import { deliver, get, notice, send, waiting, whenAnswered } from "./wire.js";

const DRAFT = "caddie draft";
const EXAMPLES = [
  "70 yards, fairway, flag in the middle, bunker short",
  "twenty paces off the front, pin at the back behind a ridge",
  "12 footer, downhill, breaks a little left to right",
];
const field = byId("text");
let now = null;
let spoken = () => {};
export const whenSpoken = (act) => (spoken = act);

export async function showTalk() {
  if (now === null) drawWaiting(waiting());
  show(await get("/api/talk"));
  toNewest("auto");
  notice("");
  deliver();
}

const say = (text) => send("/api/say", { text }, text);

export function show(state) {
  const before = now;
  now = state;
  byId("player").textContent = state.player;
  competition(state.mode === "competition");
  byId("welcome").hidden = state.turns.length > 0;
  byId("whose-bag").textContent = state.whose_bag;
  drawTurns(state.turns, before);
  drawShot(state.shot);
  drawFacts(state);
  drawActions(state);
  drawWaiting(waiting());
}

function competition(on) {
  document.body.dataset.mode = on ? "competition" : "practice";
  const told = on ? "Competition: no advice, Rule 4.3a(1). Shots are kept." : "";
  if (byId("mode").textContent !== told) byId("mode").textContent = told;
}

function drawTurns(turns, before) {
  const place = byId("turns");
  const there = new Map([...place.children].map((part) => [part.dataset.number, part]));
  const parts = turns.map((turn) => there.get(String(turn.number)) || turnOf(turn));
  const last = turns.at(-1);
  place.replaceChildren(...parts);
  parts.forEach((part, number) => part.classList.toggle("last", number === parts.length - 1));
  if (last && before && last.number !== before.turns.at(-1)?.number) {
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    toNewest(calm ? "auto" : "smooth");
  }
}

function toNewest(behavior) {
  byId("turns").lastElementChild?.scrollIntoView({ block: "start", behavior });
}

function turnOf(turn) {
  const detailed = turn.written && turn.written !== turn.spoken;
  return el(
    "article",
    { css: turn.logged ? "turn logged" : "turn", "data-number": turn.number },
    el("p", { css: "you" }, el("span", { css: "unseen" }, "You: "), turn.heard),
    el("p", { css: "reply" }, el("span", { css: "unseen" }, "Caddie: "), turn.spoken),
    detailed ? el("details", {}, el("summary", {}, "In full"), el("pre", { tabindex: 0 }, turn.written)) : null,
  );
}

function drawWaiting(list) {
  for (const old of document.querySelectorAll(".turn.waiting")) old.remove();
  byId("turns").append(
    ...list.map((each) =>
      el("article", { css: "turn waiting" }, el("p", { css: "you" }, each.shown), el("p", { css: "quiet" }, "…")),
    ),
  );
  if (list.length) byId("welcome").hidden = true;
}

function drawShot(shot) {
  const place = byId("shot");
  place.hidden = !shot;
  if (!shot) {
    place.replaceChildren();
    return;
  }
  const { chosen, options, picture } = shot;
  const others = options.filter((option) => !option.chosen);
  const open = place.querySelector("details")?.open || false;
  place.replaceChildren(
    el("h3", {}, chosen.name),
    el("p", { css: "cue" }, shot.cue),
    odds(chosen),
    picture ? pictureOf(`/picture/shot/${picture}`, chosen.name) : "",
    others.length
      ? el(
          "details",
          { open },
          el("summary", {}, `What else could be played (${others.length})`),
          el("ul", { css: "options" }, ...others.map(option)),
        )
      : "",
  );
}

const pictureOf = (src, name) =>
  picture(src, name, `Picture of the shot: ${name}. Its figures are in the text beside it.`);

function odds(option) {
  const rows =
    option.make === undefined
      ? [
          ["On the green", percent(option.on_green), option.on_green, ""],
          ["In trouble", percent(option.in_trouble), option.in_trouble, "bad"],
        ]
      : [
          ["Holed", percent(option.make), option.make, ""],
          ["Three putts", percent(option.three_putt), option.three_putt, "bad"],
        ];
  const where =
    option.carry === undefined ? [] : [["Carry", option.carry], ["Run", option.run]];
  const figures = [...where, ["Half within", `${option.leave_ft} ft`], ["Strokes to hole out", option.strokes.toFixed(2)]];
  return el(
    "dl",
    { css: "odds" },
    ...rows.map(([label, told, share, css]) => el("div", {}, el("dt", {}, label), el("dd", {}, told, bar(share, css)))),
    ...figures.map(([label, told]) => el("div", {}, el("dt", {}, label), el("dd", {}, told))),
  );
}

function bar(share, css) {
  const inside = el("span", { css });
  inside.style.width = percent(share).replace(" ", "");
  return el("span", { css: "bar", "aria-hidden": "true" }, inside);
}

function option(each) {
  const figures =
    each.make === undefined
      ? `carries ${each.carry}, runs ${each.run}; green ${percent(each.on_green)}, trouble ${percent(each.in_trouble)}, ` +
        `half within ${each.leave_ft} ft; ${each.strokes.toFixed(2)} strokes`
      : `holed ${percent(each.make)}; ${each.strokes.toFixed(2)} putts`;
  const pick = () => send("/api/pick", { number: each.number }, `Play the ${each.name}`);
  return el(
    "li",
    {},
    el("p", {}, el("strong", {}, each.name), el("br"), figures),
    button("Play this", pick, "", { "aria-label": `Play the ${each.name}` }),
  );
}

function drawFacts(state) {
  const said = state.facts.filter((fact) => fact.shown);
  byId("known").hidden = said.length === 0 || state.played;
  const open = state.facts.filter((fact) => !fact.shown);
  byId("facts").replaceChildren(
    ...said.map((fact) =>
      el("li", {}, button(fact.shown, () => correct(fact), "fact", { "aria-label": `Correct: ${fact.shown}` })),
    ),
    el("li", {}, button("+ more", () => more(open), "fact open", { "aria-label": "Add a fact" })),
  );
}

function more(open) {
  ask("What else?", el("div", { css: "pills" }, ...open.map((fact) => button(fact.label, () => correct(fact)))));
}

function set(fact, value, shown) {
  answered();
  send("/api/fact", { name: fact.name, value }, shown);
}

function correct(fact) {
  const gone =
    fact.shown && fact.removable ? button(`Not ${fact.shown}`, () => set(fact, null, `not ${fact.shown}`), "bad") : null;
  if (fact.name.startsWith("trouble")) ask(fact.label, trouble(fact), gone);
  else if (fact.choices.length) ask(fact.label, choices(fact), gone);
  else ask(fact.label, number(fact), gone);
}

const choices = (fact) =>
  el(
    "div",
    { css: "pills" },
    ...fact.choices.map((choice) =>
      button(choice.shown, () => set(fact, choice.value, choice.shown), "", {
        "aria-pressed": String(choice.value === fact.value),
      }),
    ),
  );

function number(fact) {
  const input = el("input", {
    type: "number", inputmode: "decimal", id: "number", step: "any", value: fact.value ?? "", required: true,
  });
  const nudge = (by) => () => (input.value = String(Math.round((Number(input.value) + by) * 10) / 10));
  const done = (event) => {
    event.preventDefault();
    if (input.value !== "") set(fact, Number(input.value), `${fact.label.toLowerCase()} ${input.value} ${fact.unit}`);
  };
  return el(
    "form",
    { css: "number", on: { submit: done } },
    el("label", { for: "number" }, `${fact.label}, ${fact.unit}`),
    el(
      "div",
      { css: "stepper" },
      button("−", nudge(-fact.step), "", { "aria-label": "Less" }),
      input,
      button("+", nudge(fact.step), "", { "aria-label": "More" }),
    ),
    el("button", { type: "submit", css: "main" }, "Set"),
  );
}

const radios = (legend, name, values, value) =>
  el(
    "fieldset",
    { css: "pills" },
    el("legend", {}, legend),
    ...values.map((each) =>
      el("label", {}, el("input", { type: "radio", name, value: each, checked: each === value }), each.replaceAll("_", " ")),
    ),
  );

function trouble(fact) {
  const [kind, side] = String(fact.value || "bunker.short").split(".");
  const parts = fact.choices.map((choice) => choice.value.split("."));
  const done = (event) => {
    event.preventDefault();
    const told = new FormData(event.target);
    const value = `${told.get("kind")}.${told.get("side")}`;
    set(fact, value, fact.choices.find((choice) => choice.value === value)?.shown || value);
  };
  return el(
    "form",
    { on: { submit: done } },
    radios("What", "kind", [...new Set(parts.map((part) => part[0]))], kind),
    radios("Where", "side", [...new Set(parts.map((part) => part[1]))], side),
    el("button", { type: "submit", css: "main" }, "Set"),
  );
}

function drawActions(state) {
  const competing = state.mode === "competition";
  const told = state.turns.at(-1);
  const talked = state.turns.length > 0;
  const sayIt = (text, words, css = "") => button(text, () => say(words), css);
  const leaving = competing && told?.question;
  byId("actions").replaceChildren(
    ...[
      leaving ? sayIt("Yes", "yes") : null,
      leaving ? sayIt("No", "no", "main") : null,
      state.shot ? sayIt("Ready", "ready", "main") : null,
      talked && (state.shot || competing || state.played) ? button("How it finished", finished) : null,
      state.shot ? sayIt("Why?", "why") : null,
      talked ? sayIt("Undo", "undo") : null,
      talked ? sayIt("Next hole", "next hole") : null,
      competing ? sayIt("Leave competition", "practice mode") : button("Competition", compete),
    ].filter(Boolean),
  );
}

const compete = () =>
  ask(
    "Begin a competition?",
    el("p", {}, "From then on shots are kept and distances said back; nothing is advised (Rule 4.3a(1))."),
    button("Begin", () => (answered(), say("competition mode")), "main"),
  );

function finished() {
  const done = (event) => {
    event.preventDefault();
    const told = new FormData(event.target);
    const part = (name) => (told.get(name) && told.get(name) !== "not said" ? told.get(name) : null);
    const left = told.get("left_ft") === "" ? null : Number(told.get("left_ft"));
    const body = { left_ft: left, side: part("side"), strike: part("strike"), finish: part("finish") };
    answered();
    const words = [body.strike, left === null ? null : `${left} feet`, body.side, body.finish];
    send("/api/result", body, words.filter(Boolean).join(", ").replaceAll("_", " ") || "missed");
  };
  ask(
    "How it finished",
    button("In the hole", () => (answered(), send("/api/result", { finish: "holed" }, "holed")), "main"),
    el(
      "form",
      { on: { submit: done } },
      el("label", { for: "left" }, "Left to the hole, feet"),
      el(
        "div",
        { css: "pills" },
        ...[2, 4, 6, 10, 15, 20, 30].map((feet) =>
          button(String(feet), () => (byId("left").value = feet), "", { "aria-label": `${feet} feet` }),
        ),
      ),
      el("input", { id: "left", name: "left_ft", type: "number", min: 0, max: 150, step: "any", inputmode: "decimal" }),
      radios("From the hole", "side", ["not said", "short", "long", "left", "right"], "not said"),
      radios("Strike", "strike", ["not said", "clean", "heavy", "thin", "topped"], "not said"),
      radios("Ended", "finish", ["not said", "green", "fringe", "fairway", "rough", "bunker", "water"], "not said"),
      el("button", { type: "submit", css: "main" }, "Write it down"),
    ),
  );
}

field.value = localStorage.getItem(DRAFT) || "";
field.addEventListener("input", () => localStorage.setItem(DRAFT, field.value));
byId("say").addEventListener("submit", (event) => {
  event.preventDefault();
  const text = field.value.trim();
  if (!text) return;
  field.value = "";
  localStorage.removeItem(DRAFT);
  say(text);
});
byId("examples").append(...EXAMPLES.map((text) => el("li", {}, button(text, () => say(text), "example"))));
whenAnswered((state, first, refused) => {
  if (state) {
    show(state);
    spoken(state.turns.at(-1)?.spoken || "");
  } else if (refused && first.path === "/api/say" && !field.value) {
    field.value = first.body.text;
  }
}, drawWaiting);
