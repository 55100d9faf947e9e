// Practice: what may be begun, and the ball that is played now.
import { answered, ask, button, byId, el, percent } from "./dom.js";
import { answersTo } from "./playing.js";
import { get, notice, post } from "./wire.js";

const ORDERS = ["mixed", "blocked", "rising"];
let kept = "";

export async function showPractice() {
  drawPractice(await get("/api/practice"));
}

export function drawPractice(now) {
  const place = byId("practice-now");
  byId("aloud-ball").hidden = !now.on;
  const open = place.querySelector("details[open]")?.id;
  const held = place.contains(document.activeElement) ? named(document.activeElement) : "";
  place.replaceChildren(
    el("h2", { id: "practice-title", tabindex: -1, css: now.on ? "unseen" : "" }, "Practice"),
    ...(now.on ? playing(now) : beginning(now, open)),
  );
  // Told to a screen reader, whose place on the page stays the button that was pressed.
  byId("said").textContent = `${now.line} ${now.prompt}`;
  if (held) ([...place.querySelectorAll("button")].find((each) => named(each) === held) || byId("practice-title")).focus({ preventScroll: true });
}

const named = (part) => part.getAttribute("aria-label") || part.textContent;

function beginning(now, open) {
  return [
    now.over ? el("p", { css: "large" }, now.line) : "",
    now.over && now.summary !== now.line ? el("p", {}, now.summary) : "",
    now.over && now.kind === "range" ? el("p", {}, el("a", { href: "#bag" }, "Fit the bag to the balls kept")) : "",
    el("div", { css: "actions" }, button("What would twenty minutes gain most?", gains)),
    part("rehearsal", "Rehearsal", open, rehearsal()),
    part("range", "Range session", open, range(now)),
    part("games", "Games", open, games(now)),
    part("drills", "Putting drills", open, drills(now)),
  ];
}

const REHEARSED = 10;

function begun(gain) {
  answered();
  start(gain.drill ? { kind: "drill", name: gain.drill } : { kind: "rehearsal", balls: REHEARSED, order: ORDERS[0] });
}

const gained = (each) =>
  each.strokes === undefined ? "" : ` ${each.strokes.toFixed(3)} strokes a round (${each.low.toFixed(3)} to ${each.high.toFixed(3)}).`;

const worthPractising = (each) =>
  el("li", {}, el("strong", {}, `${each.sentence}.`), `${gained(each)} Practise it: ${each.practise}, or`,
    button("Begin it now", () => begun(each), "", { "aria-label": `Begin it now: ${each.practise}` }));

async function gains() {
  try {
    const found = await get("/api/practice/next");
    notice("");
    ask(
      "What twenty minutes would gain most",
      found.too_few ? el("p", {}, found.too_few) : "",
      el("ol", { css: "gains" }, ...found.for_everybody.map(worthPractising), ...found.gains.map(worthPractising)),
      found.too_few ? "" : el("p", { css: "quiet" }, `Taken that twenty minutes close ${percent(found.closed)} of the gap, which nobody has measured: trust the order more than the strokes.`),
    );
  } catch (error) {
    notice(error.message);
  }
}

const part = (id, title, open, inside) =>
  el("details", { id: `${id}-part`, css: "part", open: open ? open === `${id}-part` : id === "rehearsal" }, el("summary", {}, title), ...inside);

const field = (id, label, attributes) => [el("label", { for: id }, label), el("input", { id, name: id, ...attributes })];
const choice = (id, label, values) => [
  el("label", { for: id }, label),
  el("select", { id, name: id }, ...values.map((value) => el("option", {}, value))),
];

function begins(act) {
  return { submit: (event) => (event.preventDefault(), act(new FormData(event.target))) };
}

function rehearsal() {
  const begin = (told) => start({ kind: "rehearsal", balls: Number(told.get("balls")), order: told.get("order") });
  return [
    el("p", {}, "Shots that cost you most are read out. Drop a ball, play it, and say what happened."),
    el("form", { on: begins(begin) },
      ...field("balls", "Balls", { type: "number", min: 1, max: 99, value: 10, inputmode: "numeric" }),
      ...choice("order", "Order", ORDERS),
      el("button", { type: "submit", css: "main" }, "Begin")),
  ];
}

function range(now) {
  if (now.range) return [el("p", { css: "note" }, now.range)];
  const begin = (told) =>
    start({
      kind: "range", balls: Number(told.get("bucket")), order: told.get("range-order"), sand: told.get("sand") !== null,
      clubs: told.getAll("club"), swings: told.getAll("swing"),
    });
  return [
    el("p", {}, "A bucket measures your carries: each ball is called, you say what it carried. Every ball is kept at once."),
    now.waits ? el("div", { css: "actions" }, button("Go on with the session that waits", () => start({ kind: "range", go_on: true }), "main")) : "",
    el("form", { on: begins(begin) },
      ...field("bucket", "Balls", { type: "number", min: 1, max: 500, value: 30, inputmode: "numeric" }),
      picks("club", "Clubs (the three most lofted wedges when none is picked)", now.clubs),
      picks("swing", "Swing lengths (the three longest when none is picked)", now.swings),
      ...choice("range-order", "Order", ORDERS.slice(0, 2)),
      picks("sand", "Where", ["out of a practice bunker"]),
      el("button", { type: "submit", css: now.waits ? "" : "main" }, "Begin a new one")),
  ];
}

const picks = (name, legend, values) =>
  el("fieldset", { css: "pills" }, el("legend", {}, legend),
    ...values.map((value) => el("label", {}, el("input", { type: "checkbox", name, value }), value)));

function games(now) {
  const other = el("input", { id: "other", type: "text", maxlength: 40 });
  const begin = (name) => {
    const partner = other.value.trim();
    start({ kind: "game", name, players: partner ? [now.player, partner] : [] });
  };
  return [
    el("label", { for: "other" }, "Second player, if there is one"),
    other,
    el("ul", { css: "options" }, ...now.games.map((game) => offered(game, () => begin(game.name)))),
  ];
}

const drills = (now) => [
  el("ul", { css: "options" }, ...now.drills.map((drill) => offered(drill, () => start({ kind: "drill", name: drill.name })))),
];

const offered = (each, begin) =>
  el("li", {}, el("p", {}, el("strong", {}, each.title), el("br"), each.text),
    button("Play", begin, "", { "aria-label": `Play ${each.title}` }));

function playing(now) {
  const tell = (text) => change("/api/practice/tell", { text });
  const typed = (event) => {
    event.preventDefault();
    const text = new FormData(event.target).get("text").trim();
    if (text) tell(text);
  };
  const words = el("input", { id: "told", name: "text", type: "text", maxlength: 200, value: kept, on: { input: () => (kept = words.value) } });
  return [
    el("p", { css: "large" }, now.prompt),
    now.played ? el("p", { css: "answered" }, now.line) : "",
    ...answersTo(now, tell),
    now.played ? "" : el("p", { css: "quiet" }, now.line),
    el("form", { on: { submit: typed } },
      el("label", { for: "told" }, "Or in words"),
      words,
      el("button", { type: "submit" }, "Tell")),
    el("p", { css: "quiet" }, now.summary || `${now.played} of ${now.balls}`),
    now.cells.length ? el("ul", { css: "cells" }, ...now.cells.map((each) => cell(each, now.unit))) : "",
    el("div", { css: "actions" },
      now.kind === "range" ? button("End the session and keep it", () => tell("finish")) : "",
      button(now.kind === "range" ? "Go on another time" : "Stop here", () => change("/api/practice/stop", {}))),
  ];
}

function cell(each, unit) {
  const mean = each.mean === null ? `about ${each.expected} ${unit}, to be measured` : `${each.mean} ${unit}`;
  return el("li", { "aria-current": each.called ? "true" : null },
    el("strong", {}, each.name), ` ${mean}${each.known ? ", known" : ""}; ${each.hit} hit`);
}

function start(wanted) {
  document.dispatchEvent(new Event("practice begun"));
  change("/api/practice/start", wanted);
}

async function change(path, body) {
  try {
    const state = await post(path, body);
    kept = "";
    drawPractice(state);
    scrollTo(0, 0);
    notice("");
  } catch (error) {
    notice(error.message);
  }
}
