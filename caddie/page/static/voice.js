// Talk aloud: the microphone's sound goes to the machine's ears, its mouth is heard here and is cut off by talking.
// The talk and practice have controls of their own; one of them listens at a time.
import { byId } from "./dom.js";
import { drawPractice } from "./practice.js";
import { show } from "./talk.js";
import { notice, tokenNow } from "./wire.js";

const TAP_MS = 350;
const LAST_LINE_MS = 8000;
const LONGEST_SHOWN = 60;
const IDLE_MS = 60_000;
let idle = 0;
let pressedAt = 0;
const STATES = { waiting: "", listening: "Listening …", thinking: "Thinking …", speaking: "", learning: "Learning the words to listen for …" };
const there = Boolean(navigator.mediaDevices && window.AudioWorkletNode);
let talk = null;

async function begin(controls, handsFree) {
  const context = new AudioContext();
  const stream = await navigator.mediaDevices.getUserMedia({
    // The ears were measured on plain sound; the echo matters only where the reply may be talked into.
    audio: { channelCount: 1, echoCancellation: handsFree, noiseSuppression: false, autoGainControl: false },
  });
  await context.audioWorklet.addModule("/shell/microphone.js");
  await context.resume();
  const socket = new WebSocket(`${location.protocol.replace("http", "ws")}//${location.host}/voice`);
  socket.binaryType = "arraybuffer";
  const node = new AudioWorkletNode(context, "microphone");
  const now = { controls, context, stream, socket, node, handsFree, held: false, sound: 0, source: null };
  context.createMediaStreamSource(stream).connect(node);
  node.port.onmessage = ({ data }) => {
    if (socket.readyState === WebSocket.OPEN && (handsFree || now.held)) socket.send(data.buffer);
  };
  socket.onmessage = ({ data }) => heard(now, data);
  socket.onclose = () => talk === now && stopListening();
  await new Promise((opened, failed) => {
    socket.onopen = opened;
    socket.onerror = () => failed(new Error("The machine's ears are out of reach."));
  });
  tell(now, { token: tokenNow(), hands_free: handsFree, about: controls.about });
  return now;
}

const tell = (now, said) => now.socket.readyState === WebSocket.OPEN && now.socket.send(JSON.stringify(said));

function heard(now, data) {
  if (data instanceof ArrayBuffer) {
    play(now, data);
    return;
  }
  const said = JSON.parse(data);
  if (said.hush) hush(now);
  if (said.sound) now.sound = said.sound;
  if (said.partial) now.controls.hearing.textContent = latest(said.partial);
  if (said.state !== undefined) state(now.controls, said.state);
  if (said.talk) show(said.talk);
  if (said.practice) practised(now, said.practice);
  if (said.error) notice(said.error);
}

// The newest words are the ones to look at.
const latest = (words) => (words.length > LONGEST_SHOWN ? `… ${words.slice(words.indexOf(" ", -LONGEST_SHOWN + words.length))}` : words);

function state({ hearing }, name) {
  document.body.dataset.ears = name;
  hearing.textContent = name in STATES ? STATES[name] : name;
}

function practised(now, practice) {
  drawPractice(practice);
  // The last line is heard to its end before the microphone is let go.
  if (!practice.on) setTimeout(() => talk === now && stopListening(), LAST_LINE_MS);
}

async function play(now, wav) {
  const number = now.sound;
  const buffer = await now.context.decodeAudioData(wav);
  if (number !== now.sound || talk !== now) return;
  hush(now);
  const source = now.context.createBufferSource();
  source.buffer = buffer;
  source.connect(now.context.destination);
  source.onended = () => tell(now, { played: number });
  source.start();
  now.source = source;
  document.body.dataset.spoken = String(number);
}

function hush(now) {
  now.source?.stop();
  now.source = null;
}

export function stopListening() {
  const now = talk;
  talk = null;
  if (!now) return;
  hush(now);
  now.socket.close();
  for (const track of now.stream.getTracks()) track.stop();
  now.context.close();
  state(now.controls, "waiting");
  now.controls.mic.setAttribute("aria-pressed", "false");
  now.controls.hands.setAttribute("aria-checked", "false");
}

async function ready(controls, handsFree) {
  if (talk && talk.controls === controls && talk.handsFree === handsFree) return true;
  stopListening();
  try {
    talk = await begin(controls, handsFree);
    notice("");
    return true;
  } catch (error) {
    notice(error.name === "NotAllowedError" ? "The browser was not allowed to use the microphone." : error.message);
    return false;
  }
}

const pressed = ({ mic }) => mic.getAttribute("aria-pressed") === "true";

// Held, it listens as long; tapped, until it is tapped again.
async function press(controls) {
  pressedAt = performance.now();
  controls.mic.setAttribute("aria-pressed", "true");
  if (!(await ready(controls, false)) || !pressed(controls)) {
    controls.mic.setAttribute("aria-pressed", "false");
    return;
  }
  hush(talk);
  talk.held = true;
  tell(talk, { press: true });
}

function release({ mic }) {
  mic.setAttribute("aria-pressed", "false");
  if (!talk?.held) return;
  // The last word is still on its way from the microphone.
  setTimeout(() => {
    if (!talk) return;
    talk.held = false;
    tell(talk, { release: true });
    // The microphone is not kept open for nothing.
    clearTimeout(idle);
    idle = setTimeout(() => talk && !talk.handsFree && !talk.held && stopListening(), IDLE_MS);
  }, 200);
}

function controlled(controls) {
  const { mic, hands } = controls;
  if (there) mic.hidden = hands.hidden = false;
  mic.addEventListener("pointerdown", (event) => {
    mic.setPointerCapture(event.pointerId);
    if (pressed(controls)) {
      pressedAt = -TAP_MS;
      release(controls);
    } else press(controls);
  });
  mic.addEventListener("pointerup", () => pressed(controls) && performance.now() - pressedAt > TAP_MS && release(controls));
  mic.addEventListener("contextmenu", (event) => event.preventDefault());
  mic.addEventListener("keydown", (event) => {
    if (event.repeat || (event.key !== " " && event.key !== "Enter")) return;
    event.preventDefault();
    if (pressed(controls)) release(controls);
    else press(controls);
  });
  hands.addEventListener("click", async () => {
    if (talk?.controls === controls && talk.handsFree) stopListening();
    else if (await ready(controls, true)) hands.setAttribute("aria-checked", "true");
  });
}

controlled({ about: "talk", mic: byId("listen"), hands: byId("hands"), hearing: byId("hearing") });
controlled({ about: "practice", mic: byId("listen-ball"), hands: byId("hands-ball"), hearing: byId("hearing-ball") });
window.addEventListener("hashchange", stopListening);
// Other answers are listened for from now on.
document.addEventListener("practice begun", stopListening);
