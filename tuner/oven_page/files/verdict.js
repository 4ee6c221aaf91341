// The verdict as the server decides it, from the rule that came with the cook sheet. A low reading beats anything missing;
// anything missing makes it unknown, which is handled as not safe. The server decides again when the cook is sent: that counts.
const EDGE = 1e-9;
const DAY_MS = 24 * 3600 * 1000;

export function coldest(readings) {
  return readings.length ? readings.indexOf(Math.min(...readings)) : -1;
}

export function decide(rule, cook) {
  const readings = cook.core_temperature_c || [];
  const named = (index) => (cook.probe_places && index < cook.probe_places.length ? cook.probe_places[index] : index + 1);
  if (rule.none) {
    const missing = [...interrupted(cook), ...unapproved(rule)];
    return missing.length
      ? { status: "unknown", reasons: missing }
      : { status: "safe_to_taste", reasons: [{ code: "nothing_to_kill", rule: rule.rule, by: rule.approved_by }] };
  }
  const line = rule.pass_line_c;
  const below = [];
  readings.forEach((reading, index) => {
    if (reading < line - EDGE) below.push({ code: "below", place: named(index), reading, line, limit: rule.limit_c });
  });
  if (below.length) return { status: "not_safe", reasons: below };
  const missing = [...lacking(rule, cook, readings)];
  if (missing.length) return { status: "unknown", reasons: missing };
  return {
    status: "safe_to_taste",
    reasons: [{ code: "safe", reading: Math.min(...readings), line, limit: rule.limit_c, guard: rule.guard_c }],
  };
}

function* lacking(rule, cook, readings) {
  if (readings.length < rule.places) yield { code: "places", read: readings.length, places: rule.places };
  yield* interrupted(cook);
  if (cook.rest_s == null) yield { code: "rest_missing", rest: rule.rest_s };
  else if (cook.rest_s < rule.rest_s - EDGE) yield { code: "rest_short", kept: cook.rest_s, rest: rule.rest_s };
  if (rule.covered && cook.rest_covered !== true) yield { code: "not_covered" };
  yield* thermometer(cook);
  const held = cook.held_s || 0;
  if (held < rule.hold_s - EDGE) yield { code: "hold", hold: rule.hold_s };
  if (rule.required_min != null && (held / 60) * rule.minutes_per_held_min < rule.required_min * (1 - EDGE)) {
    yield { code: "minutes", needed: rule.required_min };
  }
  yield* unapproved(rule);
}

function* interrupted(cook) {
  if (cook.completed === false || cook.interrupted_by) yield { code: "interrupted" };
}

function* thermometer(cook) {
  if (!cook.cooked_at) yield { code: "no_time" };
  if (!cook.thermometer_checked_at) yield { code: "no_check" };
  else if (cook.cooked_at) {
    const age = Date.parse(cook.cooked_at) - Date.parse(cook.thermometer_checked_at);
    if (age < 0) yield { code: "check_after" };
    else if (age > DAY_MS) yield { code: "check_old" };
  }
}

function* unapproved(rule) {
  if (!rule.approved) yield { code: "unapproved" };
}
