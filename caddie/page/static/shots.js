// The log: the last shots, one taken out, and what they teach the bag.
import { answered, ask, button, byId, el } from "./dom.js";
import { get, notice, post, tried } from "./wire.js";

export async function showShots() {
  draw(await get("/api/shots"));
}

function draw(log) {
  byId("shots").replaceChildren(
    el("h2", { id: "shots-title", tabindex: -1 }, "Shots"),
    log.note ? el("p", { css: "note" }, log.note) : "",
    el("p", { css: "quiet" }, log.count ? `${log.count} kept, the newest first.` : "None kept yet. Tell the caddie how a shot finished."),
    el("div", { css: "actions" }, log.count ? button("What do they teach?", lesson, "main") : ""),
    el("ol", { css: "shots" }, ...log.shots.map(row)),
  );
}

function row(shot) {
  const what = [shot.played, shot.ended].filter(Boolean).join(": ") || "no word of the end";
  return el(
    "li",
    {},
    el(
      "div",
      {},
      el("p", {}, el("strong", {}, what)),
      el("p", { css: "quiet" }, shot.sentence),
      el("p", { css: "quiet" }, `${shot.when}, ${shot.player}, ${shot.mode}`),
    ),
    button("Take out", () => sure(shot, what), "", { "aria-label": `Take out shot ${shot.id}: ${what}` }),
  );
}

function sure(shot, what) {
  const remove = async () => {
    answered();
    await tried(async () => draw(await post("/api/shots/remove", { shot: shot.id })));
  };
  ask("Take this shot out of the log?", el("p", {}, what), el("p", { css: "quiet" }, shot.when), button("Take it out", remove, "bad"));
}

async function lesson() {
  await tried(async () => {
    const found = await get("/api/shots/lesson");
    const write = async () => {
      answered();
      await tried(async () => {
        await post("/api/shots/teach", { digest: found.digest, shots: found.shots });
        notice("The bag is taught. The version before is kept: Bag, undo.");
      });
    };
    ask(
      "What the shots teach",
      found.note ? el("p", {}, found.note) : "",
      el("ul", {}, ...found.changes.map((change) => el("li", {}, change))),
      found.changes.length ? button("Write this to the bag", write, "main") : "",
    );
  });
}
