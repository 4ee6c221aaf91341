// Marks and parts of the page as elements. Text goes in as text only, never as markup.
import { clock, number, say } from "./words.js";

export function el(name, given = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key === "style") Object.assign(made.style, value);
    else if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value != null) made.setAttribute(key, value);
  }
  made.append(...children.filter((child) => child != null));
  return made;
}

export const button = (label, onclick, kind = "") => el("button", { type: "button", class: kind, onclick }, label);
export const bar = (...buttons) => el("div", { class: "bar" }, ...buttons);
export const note = (text, kind = "") => el("p", { class: `note ${kind}` }, text);
export const heading = (text, kind = "") => el("h1", { tabindex: "-1", class: kind }, text);

const GLYPH = { safe_to_taste: "●", unknown: "?", not_safe: "✕" };

export function verdictBlock(verdict, { short = false } = {}) {
  const head = el("b", {}, `${GLYPH[verdict.status]} ${say(verdict.status)}`);
  const reasons = short ? [] : verdict.reasons.map((reason) => el("p", {}, reasonText(reason)));
  return el("div", { class: `verdict ${verdict.status} ${short ? "short" : ""}`, role: "status" }, head, ...reasons);
}

export function reasonText(reason) {
  const shown = Object.fromEntries(
    Object.entries(reason).map(([key, value]) => [key, typeof value === "number" ? number(value) : value ?? "–"]),
  );
  if (reason.rest != null) shown.rest = clock(reason.rest);
  if (reason.kept != null) shown.kept = clock(reason.kept);
  return say(`because_${reason.code}`, shown);
}

export const cautions = (codes) => el("ul", { class: "cautions" }, ...codes.map((code) => el("li", {}, say(code))));

// A program as a strip: air up, microwave down from one ink line, both 0 to 100; under it what is keyed in.
export function strip(program, { large = false } = {}) {
  const columns = program.stages.map((stage) => `${stage.share_pct}fr`).join(" ");
  const stages = program.stages.map((stage) =>
    el("span", { class: "stage" },
      el("i", { class: "up", style: { height: `${stage.air_speed_pct / 2}%` } }),
      el("i", { class: "down", style: { height: `${stage.microwave_pct / 2}%` } })));
  const said = program.stages.map((stage, index) => say("stage_said", {
    stage: index + 1, share: number(stage.share_pct), air: number(stage.air_speed_pct), microwave: number(stage.microwave_pct),
  }));
  const band = el("div", { class: `strip ${large ? "large" : ""}`, role: "img", "aria-label": said.join("; "),
    style: { gridTemplateColumns: columns } }, ...stages);
  if (!large) return band;
  const narrow = Math.min(...program.stages.map((stage) => stage.share_pct)) < 19 || program.stages.length > 3;
  const foot = program.stages.map((stage, index) =>
    el("div", {},
      el("b", {}, `${number(stage.share_pct)} %`), el("small", {}, `${number(program.stage_seconds[index])} s`),
      el("span", { class: "air" }, `▲ ${number(stage.air_speed_pct)}`),
      el("span", { class: "microwave" }, `▼ ${number(stage.microwave_pct)}`)));
  return el("div", {}, band,
    el("div", { class: `foot ${narrow ? "rows" : ""}`, style: narrow ? {} : { gridTemplateColumns: columns } }, ...foot),
    note(say("strip_legend"), "small"));
}

export function keyedIn(program) {
  return el("p", { class: "keyed" }, say("key_in"), " ",
    el("b", {}, `${number(program.air_temperature_c)} °C · ${clock(program.duration_s)}`));
}

// Readings by place, the coldest ringed and named.
export function readingsList(readings, places, coldestAt) {
  return el("ol", { class: "readings" }, ...readings.map((reading, index) =>
    el("li", { class: index === coldestAt ? "coldest" : "" },
      el("span", {}, say("place_n", { place: places[index] })), el("b", {}, `${number(reading)} °C`),
      index === coldestAt ? el("small", {}, say("coldest")) : null)));
}
