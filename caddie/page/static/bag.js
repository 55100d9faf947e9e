// The bag: carries as a picture and as a table to edit.
import { answered, ask, button, byId, el, picture } from "./dom.js";
import { tables } from "./tables.js";
import { get, notice, post } from "./wire.js";

let now = null;

export async function showBag() {
  draw(await get("/api/bag"));
}

function draw(bag) {
  now = bag;
  const clubs = bag.clubs.filter((club) => club.kind !== "putter");
  byId("bag").replaceChildren(
    el("h2", { id: "bag-title", tabindex: -1 }, `${bag.player}'s bag`),
    bag.note ? el("p", { css: "note" }, bag.note) : "",
    el("div", { css: "actions" }, bag.digest && bag.undo ? button("Undo the last change", undo) : ""),
    picture(`/picture/bag?of=${bag.digest || "demo"}`, "Carries", "Picture of the carries; the table below has its figures."),
    el("h3", {}, `Carries, ${bag.unit}`),
    bag.digest ? el("p", { css: "quiet" }, "Tap a carry to change it. Pale ones are estimates: no ball was hit.") : "",
    el("div", { css: "scroll", tabindex: 0, role: "region", "aria-label": "Table of carries" }, table(bag, clubs, false)),
    ...sand(bag, clubs),
    el("h3", {}, "Measured balls"),
    ...tables(draw, bag.digest !== null),
    el("h3", {}, "What the gaps say"),
    el("ul", {}, ...bag.findings.map((finding) => el("li", {}, finding))),
  );
}

function sand(bag, clubs) {
  const splashed = clubs.filter((club) => club.cells.some((cell) => cell.sand));
  if (!splashed.length) return [];
  return [
    el("h3", {}, `Out of sand, ${bag.unit}`),
    el("div", { css: "scroll", tabindex: 0, role: "region", "aria-label": "Table of splashes" }, table(bag, splashed, true)),
  ];
}

function table(bag, clubs, fromSand) {
  const head = el("tr", {}, el("th", { scope: "col" }, "Club"), ...bag.swings.map((swing) => el("th", { scope: "col" }, swing)));
  const rows = clubs.map((club) =>
    el(
      "tr",
      {},
      el("th", { scope: "row" }, club.id, el("small", {}, `${club.loft}°`)),
      ...bag.swings.map((swing) => el("td", {}, cellOf(bag, club, swing, fromSand))),
    ),
  );
  return el("table", { css: "carries" }, el("thead", {}, head), el("tbody", {}, ...rows));
}

function cellOf(bag, club, swing, fromSand) {
  const cell = club.cells.find((each) => each.swing === swing && each.sand === fromSand);
  const told = cell ? String(Math.round(cell.carry)) : "–";
  const named = `${club.id} ${swing}: ${cell ? `${cell.carry} ${bag.unit}` : "no carry"}`;
  if (!bag.digest) return el("span", { css: cell && !cell.shots ? "estimate" : "" }, told);
  return button(told, () => edit(club, swing, fromSand, cell), cell && !cell.shots ? "estimate" : "", { "aria-label": named });
}

function edit(club, swing, fromSand, cell) {
  const save = async (carry, spread) => {
    answered();
    await change("/api/bag/cell", { club: club.id, swing, sand: fromSand, carry, spread });
  };
  const done = (event) => {
    event.preventDefault();
    const told = new FormData(event.target);
    save(Number(told.get("carry")), told.get("spread") === "" ? null : Number(told.get("spread")));
  };
  const known = cell
    ? `${cell.shots ? `${cell.shots} balls measured` : "An estimate"}${cell.low ? `; the mean is ${cell.low} to ${cell.high}, 19 times in 20` : ""}.`
    : "No carry yet.";
  const field = (name, label, value, required) => [
    el("label", { for: name }, label),
    el("input", { id: name, name, type: "number", step: "any", min: 0.1, value: value ?? "", required, inputmode: "decimal" }),
  ];
  ask(
    `${club.id}, ${swing}${fromSand ? ", out of sand" : ""}`,
    el("p", {}, known),
    el(
      "form",
      { on: { submit: done } },
      ...field("carry", `Carry, ${now.unit}`, cell?.carry, true),
      ...field("spread", `Spread, ${now.unit} (left out: as before, or usual)`, cell?.spread, false),
      el("button", { type: "submit", css: "main" }, "Write it"),
    ),
    cell ? button("Take it out", () => save(null, null), "bad") : "",
  );
}

const undo = () => change("/api/bag/undo", {});

async function change(path, body) {
  try {
    draw(await post(path, { digest: now.digest, ...body }));
    notice("");
  } catch (error) {
    draw(await get("/api/bag"));
    notice(error.message);
  }
}
