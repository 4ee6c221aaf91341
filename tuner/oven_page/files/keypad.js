// A keypad of our own: what the display shows is what counts, with a point key. No phone keyboard, no comma question.
import { el } from "./drawing.js";
import { say } from "./words.js";

const LONGEST = 7;
let listening = null;

// Keys of a keyboard do the same; only for the keypad that is drawn.
document.addEventListener("keydown", (event) => {
  if (!listening?.pad.isConnected || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.closest?.("button, input") && event.key === "Enter") return;
  const key = { ",": ".", Backspace: "⌫", "-": "−" }[event.key] ?? event.key;
  if (listening.keys.includes(key)) {
    event.preventDefault();
    listening.press(key);
  } else if (event.key === "Enter") listening.enter();
});

export function pressed(text, key) {
  if (key === "⌫") return text.slice(0, -1);
  if (key === "−") return text.startsWith("-") ? text.slice(1) : `-${text}`;
  if (key === ".") return text.includes(".") ? text : `${text === "" || text === "-" ? `${text}0` : text}.`;
  return text.length >= LONGEST ? text : (text === "0" ? "" : text) + key;
}

export const valueOf = (text) => (/\d/.test(text) ? Number(text) : null);

// text: what the display begins with; typed(text) after each key; whole: no point key
export function keypad({ label, unit, text = "", minus = false, whole = false, typed, enter }) {
  const shown = el("output", { "aria-live": "polite", "aria-label": label }, text === "" ? "–" : text);
  let now = text;
  const press = (key) => {
    now = pressed(now, key);
    shown.textContent = now === "" ? "–" : now;
    typed(now);
  };
  const last = [minus ? "−" : null, whole ? null : ".", "0", "⌫"].filter(Boolean);
  const keys = [..."123456789", ...last];
  const named = { "⌫": say("rub_out"), ".": say("point"), "−": say("minus") };
  const pad = el("div", { class: "keypad", role: "group", "aria-label": say("keypad") },
    ...keys.slice(0, 9).map((key) => el("button", { type: "button", onclick: () => press(key) }, key)),
    el("div", { class: "lastrow" },
      ...last.map((key) => el("button", { type: "button", "aria-label": named[key], onclick: () => press(key) }, key))));
  listening = { pad, keys, press, enter };
  return [el("div", { class: "display" }, shown, el("small", {}, unit)), pad];
}
