// Large buttons for what became of a ball; each says the words that would be typed or spoken.
import { button, el } from "./dom.js";

const ENDS = ["in", "two feet", "six feet", "ten feet", "twenty feet", "thirty feet"];
const SIDES = ["short", "long", "left", "right"];
const DRILLS = { pace: ["short", "in", "long"], gate: ["through", "touched"], ring: ["in", "missed"] };
const MOST_STROKES = 8;
const MOST_DIGITS = 3;

export function answersTo(now, tell) {
  if (now.asks === "left") return left(tell);
  if (now.asks === "carry") return carry(now, tell);
  if (now.asks === "strokes") {
    const counts = Array.from({ length: MOST_STROKES }, (_, number) => String(number + 1));
    return [large("Strokes to hole out", counts.map((count) => button(count, () => tell(count))), "four")];
  }
  return [large("The putt", DRILLS[now.asks].map((answer) => button(answer, () => tell(answer))))];
}

const large = (label, buttons, css = "") => el("div", { css: `pills big ${css}`, role: "group", "aria-label": label }, ...buttons);

// One of several or none: pressed again it is let go.
function toggles(label, names, chosen) {
  const all = names.map((name) =>
    button(name, () => {
      const let_go = all.find((each) => each.textContent === name).getAttribute("aria-pressed") === "true";
      for (const each of all) each.setAttribute("aria-pressed", String(each.textContent === name && !let_go));
      chosen(let_go ? "" : name);
    }, "", { "aria-pressed": "false" }),
  );
  return el("div", { css: "pills wide-ones", role: "group", "aria-label": label }, ...all);
}

function left(tell) {
  let side = "";
  return [
    el("h3", {}, "Where it ended"),
    toggles("Side of the hole", SIDES, (now) => (side = now)),
    large("Distance left", ENDS.map((end) => button(end, () => tell(end === "in" ? "in" : `${end} ${side}`.trim())))),
  ];
}

function carry(now, tell) {
  let digits = "";
  let side = "";
  const shown = el("output", { css: "carry", "aria-label": "Carry" }, "–");
  const draw = () => (shown.textContent = digits ? `${digits} ${now.unit}` : "–");
  const key = (digit) => button(digit, () => (digits.length < MOST_DIGITS && (digits += digit), draw()), "key");
  const back = button("⌫", () => ((digits = digits.slice(0, -1)), draw()), "key", { "aria-label": "Take the last digit away" });
  const write = button("Write", () => digits && tell([digits, side].filter(Boolean).join(", ")), "main key", { "aria-label": "Write the carry down" });
  return [
    el("div", { css: "pad" },
      shown,
      toggles("Side of the line", ["left", "right"], (now) => (side = now)),
      el("div", { css: "keys", role: "group", "aria-label": "Carry" }, ...["1", "2", "3", "4", "5", "6", "7", "8", "9"].map(key), back, key("0"), write),
      el("div", { css: "pills wide-ones", role: "group", "aria-label": "Mishit" },
        ...["heavy", "thin", "shank"].map((strike) => button(strike, () => tell(strike)))),
      el("div", { css: "pills wide-ones" }, button("Scratch the last", () => tell("scratch that"), "", { disabled: now.played === 0 }))),
  ];
}
