// Values that are possible but unlikely are asked about at once, by the same rules and codes as the server asks.
import { number } from "./words.js";

const asCelsius = (value) => Math.round(((value - 32) / 1.8) * 10) / 10;

// null: fine; {refused}: can't be; {ask, celsius}: asked, with the Celsius reading where °F may have been typed
export function massQuestion(sheet, value) {
  if (value <= 0 || value > 20000) return { refused: "mass_impossible", value };
  const usual = sheet.portion.mass_g;
  return value < 0.9 * usual || value > 1.1 * usual ? { ask: "mass_unlikely", value, usual } : null;
}

export function startQuestion(sheet, value) {
  const usual = sheet.portion.start_temperature_c;
  const fits = (one) => one >= usual - 5 && one <= usual + 5;
  const celsius = fits(asCelsius(value)) && !fits(value) ? asCelsius(value) : null;
  if ((value < -40 || value > 60) && celsius === null) return { refused: "start_impossible", value };
  return fits(value) ? null : { ask: celsius === null ? "start_unlikely" : "fahrenheit", value, usual, celsius };
}

export function coreQuestion(sheet, draft, value, text) {
  if (!text.includes(".") && Math.abs(value) >= 250) return { refused: "type_the_point", value: `${text.slice(0, -1)}.${text.slice(-1)}` };
  if (value < -40 || value > 250) return { refused: "core_impossible", value };
  const boiling = sheet.oven.boiling_c;
  if (value > boiling + 1) {
    return value >= 130 && value <= 212
      ? { ask: "fahrenheit", value, celsius: asCelsius(value) }
      : { ask: "above_boiling", value, boiling };
  }
  if (draft.start_c != null && value < draft.start_c) return { ask: "below_start", value, start: draft.start_c };
  return null;
}

export function outQuestion(draft, value) {
  if (value <= 0) return { refused: "mass_impossible", value };
  if (draft.mass_g == null) return null;
  const ratio = value / draft.mass_g;
  if (ratio < 0.1 || ratio > 1.2) return { refused: "out_impossible", value, mass: draft.mass_g };
  return ratio < 0.6 || ratio > 1 ? { ask: "out_unlikely", value, mass: draft.mass_g } : null;
}

// Codes of everything unlikely in a finished cook: each was asked when it was entered.
export function codes(sheet, cook) {
  const found = [];
  const outside = (field, value, low, high) => {
    if (value != null && (value < low || value > high)) found.push(`${field}=${number(value)}`);
  };
  const boiling = sheet.oven.boiling_c;
  (cook.core_temperature_c || []).forEach((reading, index) => {
    const low = cook.start_temperature_c != null && reading < cook.start_temperature_c;
    if (reading > boiling + 1 || low) found.push(`core_temperature_c.${index + 1}=${number(reading)}`);
  });
  const { mass_g: usual, start_temperature_c: start } = sheet.portion;
  outside("mass_g", cook.mass_g, 0.9 * usual, 1.1 * usual);
  outside("start_temperature_c", cook.start_temperature_c, start - 5, start + 5);
  if (cook.mass_g != null && cook.mass_out_g != null) {
    outside("mass_out_g", Math.round((cook.mass_out_g / cook.mass_g) * 1e4) / 1e4, 0.6, 1);
  }
  for (const score of cook.scores || []) {
    for (const name of ["browning", "texture", "moisture"]) {
      if (score[name] === 1 || score[name] === 5) found.push(`scores.${score.taster}.${name}=${score[name]}`);
    }
  }
  return found;
}
