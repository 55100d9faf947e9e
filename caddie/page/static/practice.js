// A rehearsal: a ball is read out, played, and what became of it told by tap or in words.
import { button, byId, el } from "./dom.js";
import { get, notice, post } from "./wire.js";

const ENDS = ["in", "two feet", "six feet", "ten feet", "twenty feet", "thirty feet"];
const SIDES = ["short", "long", "left", "right"];
let kept = "";

export async function showPractice() {
  draw(await get("/api/practice"));
}

function draw(now) {
  byId("practice").replaceChildren(
    el("h2", { id: "practice-title", tabindex: -1 }, "Practice"),
    ...(now.on ? playing(now) : beginning(now)),
  );
}

function beginning(now) {
  const begin = (event) => {
    event.preventDefault();
    const told = new FormData(event.target);
    change("/api/practice/start", { balls: Number(told.get("balls")), order: told.get("order") });
  };
  const orders = ["mixed", "blocked", "rising"];
  return [
    now.summary ? el("p", { css: "large", role: "status" }, now.line, " ", now.summary) : "",
    el("p", {}, "A rehearsal reads out shots that cost you most. Drop a ball, play it, and say what happened."),
    el(
      "form",
      { on: { submit: begin } },
      el("label", { for: "balls" }, "Balls"),
      el("input", { id: "balls", name: "balls", type: "number", min: 1, max: 99, value: 10, inputmode: "numeric" }),
      el("label", { for: "order" }, "Order"),
      el("select", { id: "order", name: "order" }, ...orders.map((order) => el("option", {}, order))),
      el("button", { type: "submit", css: "main" }, "Begin"),
    ),
  ];
}

function playing(now) {
  let side = "";
  const sides = SIDES.map((each) =>
    button(each, (event) => {
      side = side === each ? "" : each;
      for (const other of sides) other.setAttribute("aria-pressed", String(other === event.target && side !== ""));
    }, "", { "aria-pressed": "false" }),
  );
  const tell = (text) => change("/api/practice/tell", { text });
  const typed = (event) => {
    event.preventDefault();
    const text = new FormData(event.target).get("text").trim();
    if (text) tell(text);
  };
  const field = el("input", { id: "told", name: "text", type: "text", maxlength: 200, value: kept, on: { input: () => (kept = field.value) } });
  return [
    el("p", { css: "large", role: "status" }, now.prompt),
    el("p", { css: "quiet" }, now.line),
    el("h3", {}, "Where it ended"),
    el("div", { css: "pills", role: "group", "aria-label": "Side of the hole" }, ...sides),
    el("div", { css: "pills big", role: "group", "aria-label": "Distance left" },
      ...ENDS.map((end) => button(end, () => tell(end === "in" ? "in" : `${end} ${side}`.trim())))),
    el("form", { on: { submit: typed } },
      el("label", { for: "told" }, "Or in words, such as “thin, over the back”"),
      field,
      el("button", { type: "submit", css: "main" }, "Tell")),
    now.summary ? el("p", { css: "quiet" }, now.summary) : "",
    el("div", { css: "actions" }, button("Stop here", () => change("/api/practice/stop", {}))),
  ];
}

async function change(path, body) {
  try {
    const state = await post(path, body);
    kept = "";
    draw(state);
    notice("");
  } catch (error) {
    notice(error.message);
  }
}
