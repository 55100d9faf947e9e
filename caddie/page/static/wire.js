// The way to the machine. What is sent waits in the browser until it is answered, and is sent once.
import { byId } from "./dom.js";

const WAITING = "caddie waiting";
const OUT_OF_REACH =
  "The machine that runs caddie is out of reach. What you typed is kept here and goes out when it is back.";
const NO_ANSWER = "The machine that runs caddie is out of reach. Do it again when it is back.";
const TRY_AGAIN_MS = 2000;
const TRIED = "caddie code tried";

let token = null;
let sending = false;
const listeners = { answer: () => {}, waiting: () => {} };

export class Refused extends Error {
  constructor(status, reason) {
    super(reason);
    this.status = status;
  }
}

export function notice(text) {
  const place = byId("notice");
  if (place.textContent !== text) place.textContent = text;
}

// An act of the player: what keeps it from being done is told, and the notice of the one before is gone.
export async function tried(act) {
  try {
    notice("");
    await act();
  } catch (error) {
    notice(error.message);
  }
}

const name = () =>
  [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

async function asked(path, options = {}) {
  const answer = await fetch(path, { credentials: "same-origin", ...options });
  const found = await answer.json().catch(() => ({}));
  comeIn(answer.status === 401);
  if (!answer.ok) throw new Refused(answer.status, found.error || `the machine answered ${answer.status}`);
  return found;
}

// A browser that was not let in may type the code; the machine answers by letting it in or not.
function comeIn(wanted) {
  const tried = sessionStorage.getItem(TRIED);
  if (!wanted) sessionStorage.removeItem(TRIED);
  byId("come-in").hidden = !wanted;
  byId("come-in").querySelector("label").textContent =
    wanted && tried ? "That code is not the one of now. Code that the terminal shows" : "Code that the terminal shows";
}

byId("come-in").addEventListener("submit", (event) => {
  event.preventDefault();
  sessionStorage.setItem(TRIED, "yes");
  location.assign(`/?key=${encodeURIComponent(byId("code").value.trim())}`);
});

export async function get(path) {
  try {
    const found = await asked(path);
    if (found.token) token = found.token;
    return found;
  } catch (error) {
    if (!(error instanceof Refused)) throw new Refused(0, OUT_OF_REACH);
    throw error;
  }
}

async function sent(path, body) {
  if (token === null) await get("/api/talk");
  const headers = { "content-type": "application/json", "x-caddie-token": token };
  return asked(path, { method: "POST", headers, body: JSON.stringify(body) });
}

// A change that is asked about at once: its error is shown where it was made. One that heard no answer is asked again
// by the same name, so that it is done once.
let unanswered = null;
export async function post(path, body = {}) {
  const what = JSON.stringify([path, body]);
  const id = unanswered?.what === what ? unanswered.id : name();
  unanswered = null;
  try {
    return await sent(path, { id, ...body });
  } catch (error) {
    if (error instanceof Refused) throw error;
    unanswered = { what, id };
    throw new Refused(0, NO_ANSWER);
  }
}

export function waiting() {
  try {
    return JSON.parse(localStorage.getItem(WAITING)) || [];
  } catch {
    return [];
  }
}

function keep(list) {
  localStorage.setItem(WAITING, JSON.stringify(list));
  listeners.waiting(list);
}

// Something said or tapped in the talk.
export function send(path, body, shown) {
  keep([...waiting(), { path, body: { id: name(), ...body }, shown }]);
  deliver();
}

export function whenAnswered(answer, changed) {
  listeners.answer = answer;
  listeners.waiting = changed;
}

export async function deliver() {
  if (sending) return;
  sending = true;
  try {
    for (let list = waiting(); list.length; list = waiting()) {
      const first = list[0];
      const state = await sent(first.path, first.body);
      keep(waiting().slice(1));
      notice("");
      listeners.answer(state, first);
    }
  } catch (error) {
    failed(error);
  } finally {
    sending = false;
  }
}

function failed(error) {
  if (error instanceof Refused && error.status === 400) {
    const [first, ...rest] = waiting();
    keep(rest);
    notice(error.message);
    listeners.answer(null, first, error.message);
    setTimeout(deliver, 0);
    return;
  }
  if (error instanceof Refused && error.status === 403) token = null;
  const reached = error instanceof Refused && error.status !== 0;
  notice(reached ? error.message : OUT_OF_REACH);
  setTimeout(deliver, TRY_AGAIN_MS);
}

window.addEventListener("online", deliver);
document.addEventListener("visibilitychange", () => document.hidden || deliver());
export const tokenNow = () => token;
