// All words of the page come from one JSON per language.
let words = {};
let language = "en";
const OFFERED = ["en", "de"];

export async function speak(wanted) {
  const chosen = OFFERED.includes(wanted) ? wanted : "en";
  words = await (await fetch(`words-${chosen}.json`)).json();
  language = chosen;
  document.documentElement.lang = chosen;
  document.title = words.title;
}

export const spoken = () => language;
export const preferred = () => (navigator.languages || ["en"]).map((one) => one.slice(0, 2)).find((one) => OFFERED.includes(one)) || "en";

export function say(key, values = {}) {
  const text = words[key];
  if (text === undefined) throw new Error(`no word for ${key}`);
  return text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

export const number = (value) => String(Number(value.toPrecision(6)));
export const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
