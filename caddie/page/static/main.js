// Which view is open, the theme, and the shell kept for when the machine is away.
import { byId } from "./dom.js";
import { showBag } from "./bag.js";
import { showNotes } from "./notes.js";
import { showPractice } from "./practice.js";
import { showShots } from "./shots.js";
import { showTalk } from "./talk.js";
import "./voice.js";
import { notice } from "./wire.js";

const VIEWS = { talk: showTalk, bag: showBag, practice: showPractice, shots: showShots, notes: showNotes, papers: async () => {} };

const TRY_AGAIN_MS = 2000;
let again = 0;

async function open(moved) {
  const wanted = location.hash.slice(1);
  const view = wanted in VIEWS ? wanted : "talk";
  for (const each of Object.keys(VIEWS)) byId(each).hidden = each !== view;
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${view}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.body.dataset.view = view;
  try {
    await VIEWS[view]();
  } catch (error) {
    notice(error.message);
    clearTimeout(again);
    if (error.status === 0) again = setTimeout(() => open(false), TRY_AGAIN_MS);
  }
  if (!moved) return;
  byId(`${view}-title`)?.focus({ preventScroll: true });
  // The address names a part of the page, to which the browser scrolls: under the tabs that stay in sight.
  if (view !== "talk") scrollTo(0, 0);
}

function themed() {
  const root = document.documentElement;
  const dark = () =>
    (root.dataset.theme || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark";
  const told = () => (byId("theme").textContent = dark() ? "Light" : "Dark");
  byId("theme").addEventListener("click", () => {
    root.dataset.theme = dark() ? "light" : "dark";
    localStorage.setItem("caddie theme", root.dataset.theme);
    told();
  });
  told();
}

window.addEventListener("hashchange", () => open(true));
themed();
byId("trust").hidden = location.protocol !== "https:";
open(false);
if ("serviceWorker" in navigator) navigator.serviceWorker.register("/worker.js").catch(() => {});
