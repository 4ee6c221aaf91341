// The order of the questions, and the cook that comes of the answers. Pure: no screen, no store, no clock of its own.
import { codes } from "./questions.js";

// undefined: not answered yet; null: not measured
export const newDraft = (sheet, device, client_id) => ({
  key: "draft", client_id, sheet_id: sheet.sheet_id, at: "mass", person: device.name, thermometer: device.thermometer,
  readings: [],
});

const asksHold = (rule) => rule.hold_s > 0 || rule.required_min != null;
const asksRest = (rule) => rule.rest_s > 0 || rule.covered;

// What follows the answer to `at`.
export function following(sheet, at) {
  const { rule } = sheet;
  if (at === "mass") return "start";
  if (at === "start") return "ready";
  if (at === "cooking") return asksRest(rule) ? "resting" : "core:0";
  if (at === "resting") return "cover";
  if (at === "cover") return "core:0";
  if (at.startsWith("core:")) {
    const next = Number(at.slice(5)) + 1;
    return next < rule.places ? `core:${next}` : asksHold(rule) ? "held" : "out";
  }
  if (at === "held") return "out";
  return "finish";
}

// Where *Back* leads; null: nowhere. Not past Start, and the clocks are not turned back.
export function before(sheet, at) {
  const last = `core:${sheet.rule.places - 1}`;
  if (at === "start") return "mass";
  if (at === "ready") return "start";
  if (at === "core:0") return asksRest(sheet.rule) ? "cover" : null;
  if (at.startsWith("core:")) return `core:${Number(at.slice(5)) - 1}`;
  if (at === "held") return last;
  if (at === "out") return asksHold(sheet.rule) ? "held" : last;
  if (at === "finish") return "out";
  return null;
}

// The draft with the answer to `at` taken back.
export function takenBack(draft, at) {
  const field = { mass: "mass_g", start: "start_c", cover: "rest_covered", held: "held_s", out: "mass_out_g" }[at];
  const without = { ...draft, at };
  if (field) delete without[field];
  if (at === "cover") delete without.rest_s;
  if (at.startsWith("core:")) without.readings = draft.readings.slice(0, Number(at.slice(5)));
  return without;
}

export function started(draft, sheet, now) {
  return { ...draft, at: "cooking", started_at: now, ends_at: now + sheet.program.duration_s * 1000 };
}

// The clocks lead on by themselves, also where the device slept meanwhile.
export function led(draft, sheet, now) {
  let led_on = draft;
  if (led_on.at === "cooking" && now >= led_on.ends_at) led_on = ended(led_on, sheet, led_on.ends_at);
  if (led_on.at === "resting" && now >= led_on.rest_ends_at) led_on = { ...led_on, at: "cover" };
  return led_on;
}

// The program is over at `when`; with `stopped` it did not run to its end.
export function ended(draft, sheet, when, stopped = false) {
  const at = following(sheet, "cooking");
  return {
    ...draft, at, out_at: when, completed: !stopped, ended_by_hand: stopped || when < draft.ends_at,
    rest_ends_at: when + sheet.rule.rest_s * 1000, ...(at === "core:0" ? { rest_s: 0 } : {}),
  };
}

export const restKept = (draft, now) => Math.min(7200, Math.floor((now - draft.out_at) / 1000));

// As the interface takes it: program and purpose are the sheet's, what was not measured is left out.
export function cookOf(sheet, draft) {
  const taken = draft.readings.map((reading, index) => [index + 1, reading]).filter(([, reading]) => reading != null);
  const iso = (ms) => new Date(ms).toISOString();
  const notes = [...(draft.notes || [])];
  const marks = Object.fromEntries(["browning", "texture", "moisture"].filter((name) => draft[name] != null).map((name) => [name, draft[name]]));
  const cook = {
    mass_g: draft.mass_g, start_temperature_c: draft.start_c,
    core_temperature_c: taken.length ? taken.map(([, reading]) => reading) : null,
    probe_places: taken.length ? taken.map(([place]) => place) : null,
    rest_s: draft.rest_s, rest_covered: draft.rest_covered, held_s: draft.held_s, completed: draft.completed,
    mass_out_g: draft.mass_out_g, cooked_at: draft.started_at ? iso(draft.started_at) : null,
    thermometer_checked_at: draft.thermometer?.checked_at ? iso(draft.thermometer.checked_at) : null,
    cook: draft.person, oven_serial: sheet.oven.serial, note: notes.length ? notes.join("; ") : null,
    scores: Object.keys(marks).length ? [{ taster: draft.person, ...marks }] : null,
    interrupted_by: draft.completed === false ? "stopped early at the oven" : null,
  };
  for (const [key, value] of Object.entries(cook)) if (value == null) delete cook[key];
  const confirmed = codes(sheet, cook);
  return confirmed.length ? { ...cook, confirmed } : cook;
}

export function bodyOf(sheet, draft) {
  const body = { client_id: draft.client_id, brief_version: sheet.brief_version, cook: cookOf(sheet, draft) };
  return draft.may_taste === undefined ? body : { ...body, may_taste: { [draft.person]: draft.may_taste } };
}

export const tooHeavyOrWarm = (sheet, draft) => {
  const { portion } = sheet;
  const found = [];
  if (draft.mass_g == null || draft.start_c == null) found.push("portion_unknown");
  if (draft.mass_g != null && Math.abs(draft.mass_g - portion.mass_g) > portion.mass_g * portion.mass_tolerance_pct / 100 + 1e-9) {
    found.push(draft.mass_g > portion.mass_g ? "heavier" : "lighter");
  }
  if (draft.start_c != null && Math.abs(draft.start_c - portion.start_temperature_c) > portion.start_tolerance_c + 1e-9) {
    found.push(draft.start_c > portion.start_temperature_c ? "warmer" : "colder");
  }
  return found;
};
