// Talk aloud: the microphone's sound goes to the machine's ears, its mouth is heard here and is cut off by talking.
import { byId } from "./dom.js";
import { show } from "./talk.js";
import { notice, tokenNow } from "./wire.js";

const TAP_MS = 350;
const LONGEST_SHOWN = 60;
const IDLE_MS = 60_000;
let idle = 0;
const STATES = { waiting: "", listening: "Listening …", thinking: "Thinking …", speaking: "", learning: "Learning the words to listen for …" };
const mic = byId("listen");
const hands = byId("hands");
let talk = null;

if (navigator.mediaDevices && window.AudioWorkletNode) mic.hidden = hands.hidden = false;

async function begin(handsFree) {
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
  const now = { context, stream, socket, node, handsFree, held: false, sound: 0, source: null };
  context.createMediaStreamSource(stream).connect(node);
  node.port.onmessage = ({ data }) => {
    if (socket.readyState === WebSocket.OPEN && (handsFree || now.held)) socket.send(data.buffer);
  };
  socket.onmessage = ({ data }) => heard(now, data);
  socket.onclose = () => talk === now && end();
  await new Promise((opened, failed) => {
    socket.onopen = opened;
    socket.onerror = () => failed(new Error("The machine's ears are out of reach."));
  });
  tell(now, { token: tokenNow(), hands_free: handsFree });
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
  if (said.partial) byId("hearing").textContent = latest(said.partial);
  if (said.state !== undefined) state(said.state);
  if (said.talk) show(said.talk);
  if (said.error) notice(said.error);
}

// The newest words are the ones to look at.
const latest = (words) => (words.length > LONGEST_SHOWN ? `… ${words.slice(words.indexOf(" ", -LONGEST_SHOWN + words.length))}` : words);

function state(name) {
  document.body.dataset.ears = name;
  byId("hearing").textContent = name in STATES ? STATES[name] : name;
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

function end() {
  const now = talk;
  talk = null;
  if (!now) return;
  hush(now);
  now.socket.close();
  for (const track of now.stream.getTracks()) track.stop();
  now.context.close();
  state("waiting");
  mic.setAttribute("aria-pressed", "false");
  hands.setAttribute("aria-checked", "false");
}

async function ready(handsFree) {
  if (talk && talk.handsFree === handsFree) return true;
  end();
  try {
    talk = await begin(handsFree);
    notice("");
    return true;
  } catch (error) {
    notice(error.name === "NotAllowedError" ? "The browser was not allowed to use the microphone." : error.message);
    return false;
  }
}

// Held, it listens as long; tapped, until it is tapped again.
let pressedAt = 0;
async function press() {
  pressedAt = performance.now();
  mic.setAttribute("aria-pressed", "true");
  if (!(await ready(false)) || mic.getAttribute("aria-pressed") !== "true") {
    mic.setAttribute("aria-pressed", "false");
    return;
  }
  hush(talk);
  talk.held = true;
  tell(talk, { press: true });
}

function release() {
  mic.setAttribute("aria-pressed", "false");
  if (!talk?.held) return;
  // The last word is still on its way from the microphone.
  setTimeout(() => {
    if (!talk) return;
    talk.held = false;
    tell(talk, { release: true });
    // The microphone is not kept open for nothing.
    clearTimeout(idle);
    idle = setTimeout(() => talk && !talk.handsFree && !talk.held && end(), IDLE_MS);
  }, 200);
}

const pressed = () => mic.getAttribute("aria-pressed") === "true";
mic.addEventListener("pointerdown", (event) => {
  mic.setPointerCapture(event.pointerId);
  if (pressed()) {
    pressedAt = -TAP_MS;
    release();
  } else press();
});
mic.addEventListener("pointerup", () => pressed() && performance.now() - pressedAt > TAP_MS && release());
mic.addEventListener("contextmenu", (event) => event.preventDefault());
mic.addEventListener("keydown", (event) => {
  if (event.repeat || (event.key !== " " && event.key !== "Enter")) return;
  event.preventDefault();
  if (pressed()) release();
  else press();
});

hands.addEventListener("click", async () => {
  if (talk?.handsFree) end();
  else if (await ready(true)) hands.setAttribute("aria-checked", "true");
});
