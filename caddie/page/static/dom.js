// Elements made without markup: text is always text.
export function el(name, attributes = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (key === "on") for (const [event, act] of Object.entries(value)) made.addEventListener(event, act);
    else if (key === "css") made.className = value;
    else made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...inside.filter(there));
  return made;
}

const there = (part) => part !== null && part !== undefined && part !== "";

export const byId = (id) => document.getElementById(id);

export const button = (text, act, css = "", more = {}) =>
  el("button", { type: "button", css, on: { click: act }, ...more }, text);

export const percent = (share) => `${Math.round(share * 100)} %`;

// One dialog for every question; what opened it gets the focus back.
const dialog = byId("dialog");
export function ask(title, ...inside) {
  const close = button("Close", () => dialog.close(), "plain");
  dialog.replaceChildren(el("h2", { id: "dialog-title" }, title), ...inside.filter(there), close);
  if (!dialog.open) dialog.showModal();
  // The browser shows the first button, which may be at the end.
  dialog.scrollTop = 0;
}

// A picture that opens larger, for a screen on which its words are small.
export function picture(src, title, alt) {
  const image = () => el("img", { src, alt });
  const large = () => ask(title, el("div", { css: "scroll large-picture", tabindex: 0 }, image()));
  return button(image(), large, "picture", { "aria-label": "The picture, larger" });
}

export const answered = () => dialog.close();
dialog.addEventListener("click", (event) => {
  if (event.target === dialog) dialog.close();
});
