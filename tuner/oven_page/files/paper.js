// The cook sheet on paper: the same order, with room to write. Printed from the browser.
import { bar, button, cautions, el, heading, keyedIn, note, strip } from "./drawing.js";
import { clock, number, say } from "./words.js";

export function paperSheet(sheet) {
  const { portion, rule } = sheet;
  const blank = (label, unit) => el("div", { class: "blank" }, el("span", {}, label), el("i", {}), el("span", {}, unit));
  const places = Array.from({ length: rule.places }, (_, index) => blank(say("core_place", { place: index + 1, places: rule.places }), "°C"));
  return el("div", { class: "paper" },
    heading(`${sheet.dish} · ${say("sheet_n", { number: sheet.number })}`),
    note(say("paper_order", { mass: number(portion.mass_g), tolerance: number(portion.mass_tolerance_pct),
      start: number(portion.start_temperature_c), start_tolerance: number(portion.start_tolerance_c) })),
    keyedIn(sheet.program), strip(sheet.program, { large: true }),
    note(needed(rule)),
    blank(say("who"), ""), blank(say("paper_date"), ""), blank(say("ice"), "°C"), blank(say("mass"), "g"), blank(say("start_c"), "°C"),
    el("div", { class: "blank" }, el("span", {}, say("paper_rest")), el("span", {}, `☐ ${say("covered")}   ☐ ${say("open")}   ☐ ${say("not_seen")}`)),
    ...places, blank(say("out"), "g"), blank(say("paper_note"), ""),
    note(say("paper_taste")),
    cautions(sheet.cautions.cook_sheet),
    el("p", {}, allergens(sheet)),
    el("div", { class: "screen-only" }, bar(button(say("print"), () => window.print(), "main"))));
}

export function needed(rule) {
  if (rule.none) return say("needed_none");
  return say(rule.covered ? "needed_covered" : "needed", {
    limit: number(rule.limit_c), guard: number(rule.guard_c), line: number(rule.pass_line_c), rest: clock(rule.rest_s),
  });
}

export const allergens = (sheet) =>
  sheet.allergens === null ? say("allergens_unknown") : sheet.allergens.length ? say("allergens", { names: sheet.allergens.join(", ") }) : say("allergens_none");
