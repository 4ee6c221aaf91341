// Marks at the oven: browning by eye always; texture and moisture only of a cook that is safe to taste, after "may taste today".
import { bar, button, cautions, el, heading, note } from "./drawing.js";
import { allergens } from "./paper.js";
import { say } from "./words.js";

const MARKS = [1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5];
export const mayBeTasted = (sheet, verdict) => verdict.status === "safe_to_taste" && sheet.rule.allergens_known;

export function markScreen(attribute, back, answered) {
  const ask = (mark, chosen) => {
    if (mark !== 1 && mark !== 5) return answered(mark);
    chosen.textContent = say("end_of_scale", { mark });
    chosen.onclick = () => answered(mark);
    return undefined;
  };
  const targets = MARKS.map((mark) => {
    const made = el("button", { type: "button", class: mark === 3 ? "right" : "" }, el("b", {}, String(mark)),
      [1, 2, 3, 4, 5].includes(mark) ? el("small", {}, say(`${attribute}_${mark}`)) : null);
    made.onclick = () => ask(mark, made);
    return made;
  });
  return [heading(say(`ask_${attribute}`)), note(say("three_is_right")), el("div", { class: "marks" }, ...targets),
    bar(button(say("back"), back), button(say("not_judged"), () => answered(null)))];
}

export function mayTasteScreen(sheet, person, back, answered) {
  return [heading(say("may_taste", { name: person })), note(allergens(sheet)), cautions(["C6"]),
    el("div", { class: "choices" }, button(say("yes_today"), () => answered(true)), button(say("not_today"), () => answered(false))),
    note(say("no_reason_asked")), bar(button(say("back"), back))];
}
