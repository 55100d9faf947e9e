// A table of shots dropped on the bag or chosen, shown as it is understood, and kept when the player says so.
import { answered, ask, button, el } from "./dom.js";
import { get, notice, post, tried } from "./wire.js";

const LARGEST_BYTES = 2_900_000;

export function tables(changed, owned) {
  const input = el("input", { id: "table", type: "file", accept: ".csv,.tsv,.txt,text/csv,text/plain", on: { change: () => take(input.files[0], changed) } });
  const place = el(
    "div",
    { css: "drop" },
    el("label", { for: "table" }, "A table of shots (CSV) of any radar or range: drop it here, or choose it"),
    input,
  );
  const over = (on) => (event) => {
    event.preventDefault();
    place.classList.toggle("over", on);
  };
  place.addEventListener("dragover", over(true));
  place.addEventListener("dragleave", over(false));
  place.addEventListener("drop", (event) => {
    over(false)(event);
    take(event.dataTransfer.files[0], changed);
  });
  return [place, owned ? el("div", { css: "actions" }, button("Fit the bag to the balls kept", () => fit(changed))) : ""];
}

async function take(file, changed) {
  if (!file) return;
  if (file.size > LARGEST_BYTES) {
    notice(`${file.name} is larger than ${Math.floor(LARGEST_BYTES / 1e6)} MB: split it, and drop its parts.`);
    return;
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  let packed = "";
  for (let at = 0; at < bytes.length; at += 0x8000) packed += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  look({ name: file.name, content: btoa(packed), wishes: {} }, changed);
}

async function look(table, changed) {
  await tried(async () => {
    const found = await post("/api/bag/table", table);
    if (found.asks) open(found.asks, table, changed);
    else show(found, table, changed);
  });
}

// What the table leaves open is asked, and it is looked at again.
function open(asks, table, changed) {
  const say = (choice) => {
    answered();
    look({ ...table, wishes: { ...table.wishes, [asks.wish]: choice } }, changed);
  };
  ask(asks.question, el("div", { css: "pills" }, ...asks.choices.map((choice) => button(choice, () => say(choice)))));
}

function show(found, table, changed) {
  const keep = async () => {
    answered();
    await tried(async () => {
      changed(await post("/api/bag/table/keep", { ...table, digest: found.digest }));
      // A bag that the table starts has its carries from these balls already.
      if (found.clubs.length === 0) await fit(changed);
    });
  };
  ask(
    table.name,
    el("p", {}, `Understood: ${found.columns.join("; ")}.`),
    found.clubs.length ? el("p", {}, "It starts a bag of your own with these clubs; correct the file where one is wrong:") : "",
    found.clubs.length ? el("ul", {}, ...found.clubs.map((club) => el("li", {}, club))) : "",
    el("ul", {}, ...found.balls.map((each) => el("li", {}, each))),
    found.rejects ? el("p", {}, `${found.rejects} rows give no shot and are set aside:`) : "",
    found.rejects ? el("ul", { css: "quiet" }, ...found.rejected.map((row) => el("li", {}, row))) : "",
    found.new ? button("Keep these balls", keep, "main") : el("p", {}, "These balls are kept already."),
  );
}

async function fit(changed) {
  await tried(async () => {
    const found = await get("/api/bag/fit");
    const write = async () => {
      answered();
      await tried(async () => changed(await post("/api/bag/fit", { digest: found.digest, shots: found.sessions })));
    };
    const nothing = found.sessions ? "The bag fits the balls already." : "No balls are kept yet: measure some under Practice, or take in a table.";
    ask(
      "What the balls say",
      found.changes.length ? el("ul", {}, ...found.changes.map((each) => el("li", {}, each))) : el("p", {}, nothing),
      found.changes.length ? button("Write this to the bag", write, "main") : "",
    );
  });
}
