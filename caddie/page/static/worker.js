// Keeps the shell, so that the page opens and says so when the machine is away. Nothing of the player is kept.
const SHELL = "caddie shell";
const FILES = [
  "/", "/shell/page.css", "/shell/theme.js", "/shell/main.js", "/shell/dom.js", "/shell/wire.js",
  "/shell/talk.js", "/shell/bag.js", "/shell/voice.js", "/shell/microphone.js", "/shell/practice.js",
  "/shell/notes.js", "/shell/tables.js", "/shell/playing.js", "/shell/shots.js", "/shell/icon.svg",
  "/shell/caddie.webmanifest",
];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELL).then((kept) => kept.addAll(FILES)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { pathname, search, origin } = new URL(event.request.url);
  const ours = origin === self.location.origin && event.request.method === "GET";
  if (ours && !search && FILES.includes(pathname)) event.respondWith(fresh(event.request));
});

// The machine's own file when it answers, the kept one when it does not.
async function fresh(request) {
  const kept = await caches.open(SHELL);
  try {
    const answer = await fetch(request);
    if (answer.ok) await kept.put(request, answer.clone());
    return answer;
  } catch {
    return (await kept.match(request)) || Response.error();
  }
}
