// The page at the oven: one question a screen. Every answer is on disk before the next question is drawn.
import { all, get, madeId, put, remove, write } from "./keeping.js";
import { bar, button, cautions, el, heading, keyedIn, note, readingsList, strip, verdictBlock } from "./drawing.js";
import { keypad, valueOf } from "./keypad.js";
import { allergens, needed, paperSheet } from "./paper.js";
import { smaller } from "./photo.js";
import { coreQuestion, massQuestion, outQuestion, startQuestion } from "./questions.js";
import { fetchSheet, flush, isOnline, onChange, refreshSheets } from "./sending.js";
import { before, bodyOf, cookOf, ended, following, led, newDraft, restKept, started, takenBack, tooHeavyOrWarm } from "./steps.js";
import { markScreen, mayBeTasted, mayTasteScreen } from "./tasting.js";
import { coldest, decide } from "./verdict.js";
import { waitingScreen } from "./waiting.js";
import { clock, number, preferred, say, speak, spoken } from "./words.js";

const DEAD_MS = 350; // after a change of question: wet fingers tap twice
const UNDO_MS = 10_000;
const SEND_EVERY_MS = 15_000;
const page = document.getElementById("page");
const what = document.getElementById("what");
const network = document.getElementById("network");
let sheet = null;
let draft = null;
let device = null;
let shown = "home"; // home, waiting, cook, other, saved
let awake = null;
let sound = null;
let dead = null;
let waitingDrawn = "";

// ---- drawing -------------------------------------------------------------------------------------------------------------
function draw(...children) {
  page.replaceChildren(...children.filter((child) => child != null));
  page.querySelector("h1")?.focus({ preventScroll: true });
  window.scrollTo(0, 0);
  page.inert = true;
  clearTimeout(dead); // of an earlier drawing: it would end the pause too soon
  dead = setTimeout(() => { page.inert = false; }, DEAD_MS);
}

async function header() {
  const queue = await all("queue");
  const stuck = queue.filter((one) => one.state === "stuck").length;
  const waiting = queue.length - stuck;
  const parts = [say(isOnline() === false ? "no_network" : "online")];
  if (waiting) parts.push(say("n_waiting", { count: waiting }));
  if (stuck) parts.push(say("n_need_you", { count: stuck }));
  if (!queue.length && isOnline()) parts.push(say("all_sent"));
  network.textContent = parts.join(" · ");
  what.textContent = shown === "cook" && sheet ? `${sheet.dish} · ${say("sheet_n", { number: sheet.number })}` : say("title");
}

network.addEventListener("click", () => (shown === "waiting" ? undefined : showWaiting()));

async function showWaiting() {
  shown = "waiting";
  waitingDrawn = JSON.stringify((await all("queue")).map(({ client_id, state, problem, kept }) => [client_id, state, problem, Boolean(kept), isOnline()]));
  draw(...(await waitingScreen(() => goOn())));
  await header();
}

async function keep(next) {
  await put("draft", next);
  draft = next;
  await question();
}

// ---- where we are --------------------------------------------------------------------------------------------------------
async function goOn() {
  draft = (await get("draft", "draft")) || null;
  if (!draft) return home();
  sheet = (await get("sheets", draft.sheet_id)).sheet;
  shown = "cook";
  return question();
}

async function home() {
  shown = "home";
  sheet = null;
  const kept = (await all("sheets")).sort((a, b) => a.sheet.issued_at.localeCompare(b.sheet.issued_at));
  const open = kept.filter((one) => !one.cooked);
  const here = await get("device", "today");
  const other = here?.name ? button(say("change_who"), () => put("device", { ...here, name: null }).then(home)) : null;
  draw(
    heading(say("sheets_here", { count: open.length })),
    open.length ? null : note(say("no_sheets")),
    ...open.map((one) => el("div", { class: "sheet" },
      one.problem ? note(one.problem, "outside") : null,
      el("button", { type: "button", disabled: Boolean(one.problem), onclick: () => take(one) },
        el("b", {}, one.sheet.dish), el("small", {}, `${say("sheet_n", { number: one.sheet.number })} · ${clock(one.sheet.program.duration_s)}`),
        strip(one.sheet.program)))),
    window.isSecureContext ? null : note(say("not_secure"), "close"),
    bar(other, ...["en", "de"].filter((one) => one !== spoken()).map((one) => button(one === "de" ? "Deutsch" : "English", async () => {
      await put("device", { key: "language", language: one });
      await speak(one);
      await home();
    }))),
  );
  await header();
}

async function take(kept) {
  sheet = kept.sheet;
  shown = "cook";
  return (await today()) ? begin() : undefined;
}

function begin() {
  draft = newDraft(sheet, device, madeId());
  return keep(draft);
}

// ---- once a day: who, and the thermometer --------------------------------------------------------------------------------
const dayOf = (time) => new Date(time).toDateString();

async function today() {
  device = (await get("device", "today")) || null;
  if (device && device.day === dayOf(Date.now()) && device.name && device.thermometer?.checked_at) return true;
  if (!device || device.day !== dayOf(Date.now())) device = { key: "today", day: dayOf(Date.now()) };
  if (!device.name) await askWho();
  else askThermometer();
  return false;
}

async function askWho() {
  const before_ = (await get("device", "names"))?.names || [];
  const offered = [...new Set([sheet.for_cook, ...before_].filter(Boolean))].slice(0, 4);
  const named = async (name) => {
    const given = name.trim();
    if (!given) return undefined;
    device = { ...device, name: given };
    await write(["device"], (store) => {
      store.put(device);
      store.put({ key: "names", names: [given, ...before_.filter((one) => one !== given)].slice(0, 6) });
    });
    return device.thermometer?.checked_at ? begin() : askThermometer();
  };
  const field = el("input", { type: "text", id: "name", maxlength: "100", autocomplete: "name" });
  draw(heading(say("who")), note(say("once_a_day")),
    offered.length ? el("div", { class: "choices" }, ...offered.map((name) => button(name, () => named(name)))) : null,
    el("form", { onsubmit: (event) => { event.preventDefault(); named(field.value); } },
      el("label", { for: "name" }, say(offered.length ? "other_name" : "your_name")), field),
    bar(button(say("back"), home), button(say("next"), () => named(field.value), "main")));
  await header();
}

function askThermometer() {
  let text = "";
  const message = note(say("ice_why"));
  const answered = async (reading) => {
    const good = reading !== null && Math.abs(reading) <= 1;
    device = { ...device, thermometer: { reading, checked_at: good ? Date.now() : null } };
    await put("device", device);
    await begin(); // not checked: asked again before the next sheet
  };
  const next = () => {
    const value = valueOf(text);
    if (value === null) return undefined;
    if (Math.abs(value) <= 1) return answered(value);
    message.className = "note outside";
    message.textContent = say("ice_off", { value: number(value) });
    return undefined;
  };
  draw(heading(say("ice")), message, ...keypad({ label: say("ice"), unit: "°C", minus: true, typed: (now) => { text = now; }, enter: next }),
    bar(button(say("not_checked"), () => answered(null)), button(say("next"), next, "main")));
  header();
}

// ---- the questions -------------------------------------------------------------------------------------------------------
const soFar = () => decide(sheet.rule, cookOf(sheet, draft));

async function question() {
  const led_on = led(draft, sheet, Date.now());
  if (led_on !== draft) {
    await put("draft", led_on);
    draft = led_on;
  }
  const { at } = draft;
  shown = "cook";
  if (at === "mass") askNumber("mass", { unit: "g", check: (value) => massQuestion(sheet, value) });
  else if (at === "start") askNumber("start", { unit: "°C", minus: true, check: (value) => startQuestion(sheet, value) });
  else if (at === "ready") ready();
  else if (at === "cooking" || at === "resting") clockScreen();
  else if (at === "cover") askCover();
  else if (at.startsWith("core:")) {
    askNumber(at, { unit: "°C", minus: sheet.portion.start_temperature_c < 0, tenths: true,
      check: (value, text) => coreQuestion(sheet, draft, value, text) });
  } else if (at === "held") askNumber("held", { unit: "s", whole: true, check: (value) => (value > 86400 ? { refused: "held_impossible", value } : null) });
  else if (at === "out") askNumber("out", { unit: "g", check: (value) => outQuestion(draft, value) });
  else if (["browning", "texture", "moisture"].includes(at)) askMark(at);
  else if (at === "may_taste") draw(...mayTasteScreen(sheet, draft.person, () => keep({ ...draft, at: "finish" }), (may) => keep({ ...draft, may_taste: may, at: may ? "texture" : "finish" })));
  else finish();
  await header();
}

const FIELD = { mass: "mass_g", start: "start_c", held: "held_s", out: "mass_out_g" };

function answeredWith(at, value, notes = []) {
  const next = { ...draft, at: following(sheet, at), notes: [...(draft.notes || []), ...notes] };
  if (at.startsWith("core:")) {
    next.readings = [...draft.readings.slice(0, Number(at.slice(5))), value];
    if (at === "core:0" && draft.first_reading_at === undefined) {
      next.first_reading_at = Date.now();
      const late = Math.round((Date.now() - (draft.answered_cover_at || draft.out_at)) / 1000);
      if (late > 60) next.notes = [...next.notes, `first reading ${late} s after the rest`];
    }
  } else next[FIELD[at]] = value;
  return keep(next);
}

function takeBack(at) {
  if (at === "mass") { // nothing is answered yet: back to the list, and nothing is lost
    return button(say("back"), async () => {
      await remove("draft", "draft");
      draft = null;
      await home();
    });
  }
  const earlier = before(sheet, at);
  if (earlier === null) return null;
  return button(say("back"), () => keep(takenBack(draft, earlier)));
}

function askNumber(at, { unit, minus = false, whole = false, tenths = false, check }) {
  let text = "";
  const core = at.startsWith("core:");
  const place = Number(at.slice(5)) + 1;
  const title = core ? say("core_place", { place, places: sheet.rule.places }) : say(at === "start" ? "start_c" : at, { line: number(sheet.rule.pass_line_c ?? 0) });
  const asked = el("div", { class: "asked", "aria-live": "assertive" });
  const accept = (value, notes) => answeredWith(at, value, notes);
  const next = () => {
    const value = valueOf(text);
    if (value === null) return undefined;
    const doubt = check(value, text);
    if (doubt === null) return accept(value);
    return askAbout(doubt, value);
  };
  const askAbout = (doubt, value) => {
    const values = Object.fromEntries(Object.entries(doubt).map(([key, one]) => [key, typeof one === "number" ? number(one) : one]));
    if (doubt.refused) {
      asked.replaceChildren(note(say(doubt.refused, values), "outside"));
      return;
    }
    const ways = [button(say("meant", { value: number(value), unit }), () => accept(value))];
    if (doubt.celsius != null) {
      ways.unshift(button(say("was_fahrenheit", values), () => accept(doubt.celsius, [`${core ? `place ${place}` : at} typed as ${number(value)} °F`]), "main"));
    }
    asked.replaceChildren(note(say(doubt.ask, values), "close"), ...ways);
    ways[0].focus();
  };
  const typed = (now) => {
    text = now;
    asked.replaceChildren();
    if (tenths && /\.\d$/.test(now)) next(); // a reading leads on with the digit behind the point
  };
  const early = at === "out" || at === "held" ? verdictBlock(soFar(), { short: true }) : null;
  const known = core && draft.readings.length ? takenReadings() : null;
  draw(early, heading(title), at === "core:0" ? note(say("C4")) : known, asked,
    ...keypad({ label: title, unit, minus, whole, typed, enter: next }),
    bar(takeBack(at), button(say("not_measured"), () => accept(null)), button(say("next"), next, "main")));
}

function takenReadings() {
  const taken = draft.readings.map((reading, index) => [index + 1, reading]).filter(([, reading]) => reading != null);
  return taken.length ? readingsList(taken.map(([, reading]) => reading), taken.map(([place]) => place), coldest(taken.map(([, reading]) => reading))) : null;
}

function ready() {
  const { portion, rule, program } = sheet;
  const odd = tooHeavyOrWarm(sheet, draft);
  const shownOr = (value, unit) => (value == null ? say("not_measured_short") : `${number(value)} ${unit}`);
  draw(
    heading(`${shownOr(draft.mass_g, "g")}, ${shownOr(draft.start_c, "°C")}`, "large"),
    note(odd.length ? `◐ ${odd.map((one) => say(one)).join(", ")}: ${say("teaches_only")}` : `● ${say("as_ordered")}`, odd.length ? "close" : "inside"),
    note(say("ordered", { mass: number(portion.mass_g), tolerance: number(portion.mass_tolerance_pct), start: number(portion.start_temperature_c), start_tolerance: number(portion.start_tolerance_c) }), "small"),
    keyedIn(program), strip(program, { large: true }), note(needed(rule)),
    cautions(sheet.cautions.cook_sheet.filter((code) => !["C1", "C2", "C6"].includes(code))), note(allergens(sheet)),
    bar(takeBack("ready"), button(say("begin"), () => {
      ring(0);
      return keep(started(draft, sheet, Date.now()));
    }, "main big")),
  );
}

// ---- clocks --------------------------------------------------------------------------------------------------------------
function clockScreen() {
  stayAwake();
  const cooking = draft.at === "cooking";
  const digits = el("p", { class: "clock", role: "timer" });
  const tick = () => {
    if (!digits.isConnected) return;
    const left = (cooking ? draft.ends_at : draft.rest_ends_at) - Date.now();
    if (left <= 0) {
      ring(cooking ? 2 : 3);
      question();
      return;
    }
    digits.textContent = clock(Math.ceil(left / 1000));
    setTimeout(tick, 250);
  };
  const undoable = !cooking && draft.ended_by_hand && Date.now() - draft.out_at < UNDO_MS;
  const undo = undoable ? button(say("undo_end"), () => {
    const { out_at, completed, ended_by_hand, rest_ends_at, ...running } = draft;
    return keep({ ...running, at: "cooking" });
  }) : null;
  if (undo) setTimeout(() => undo.remove(), UNDO_MS - (Date.now() - draft.out_at));
  draw(heading(say(cooking ? "cooking" : sheet.rule.covered ? "resting_covered" : "resting")), digits, note(say("clock_runs_on")),
    cooking ? null : cautions(["C3"]), el("div", { class: "push" }),
    undo, ...(cooking
      ? [button(say("out_already"), () => keep(ended(draft, sheet, Date.now()))), button(say("stopped_early"), () => keep(ended(draft, sheet, Date.now(), true)))]
      : [button(say("rest_cut_short"), () => keep({ ...draft, at: "cover", rest_cut_at: Date.now() }))]));
  tick();
}

function askCover() {
  // Taken back and answered again, the rest does not grow; cut short, it ended with that tap.
  const restedUntil = draft.rest_cut_at ?? draft.answered_cover_at ?? Date.now();
  const kept = restKept(draft, restedUntil);
  const late = kept - sheet.rule.rest_s;
  const answered = (covered) => keep({ ...draft, at: following(sheet, "cover"), rest_covered: covered, rest_s: kept, answered_cover_at: restedUntil });
  draw(heading(say("how_rested")),
    note(say(sheet.rule.covered ? "rest_asked_covered" : "rest_asked", { rest: clock(sheet.rule.rest_s) })),
    late > 15 ? note(say("rest_overrun", { late: clock(late) }), "close") : null,
    el("div", { class: "choices tall" }, el("button", { type: "button", onclick: () => answered(true) }, el("i", { class: "lid" }), say("covered")),
      el("button", { type: "button", onclick: () => answered(false) }, el("i", { class: "lid none" }), say("open"))),
    note(say("thermometer_in")), note(say("C4")),
    bar(draft.rest_cut_at && Date.now() < draft.rest_ends_at ? button(say("still_resting"), () => {
      const { rest_cut_at, ...resting } = draft;
      return keep({ ...resting, at: "resting" });
    }) : takeBack("cover"), button(say("not_seen"), () => answered(null))));
}

async function stayAwake() {
  try {
    if (!awake || awake.released) awake = await navigator.wakeLock.request("screen");
  } catch { /* not offered on plain http, or refused to save power: the clock is right all the same */ }
}

function ring(times) {
  try {
    sound ??= new AudioContext();
    for (let index = 0; index < times; index += 1) {
      const tone = sound.createOscillator();
      tone.frequency.value = 880;
      tone.connect(sound.destination);
      tone.start(sound.currentTime + index * 0.5);
      tone.stop(sound.currentTime + index * 0.5 + 0.3);
    }
    if (times) navigator.vibrate?.([300, 150, 300]);
  } catch { /* no sound here */ }
}

// ---- the end -------------------------------------------------------------------------------------------------------------
function finish() {
  const verdict = soFar();
  const picture = el("input", { type: "file", accept: "image/*", capture: "environment", id: "photo", class: "hidden-file" });
  const told = note("");
  picture.onchange = async () => {
    try {
      const taken = await smaller(picture.files[0]);
      await keep({ ...draft, photo: taken });
    } catch {
      told.textContent = say("photo_unreadable");
      told.className = "note outside";
    }
  };
  const marked = ["browning", "texture", "moisture"].filter((name) => draft[name] != null).map((name) => `${say(name)} ${draft[name]}`);
  const safe = mayBeTasted(sheet, verdict);
  draw(heading(say("finish")), verdictBlock(verdict), takenReadings(),
    verdict.status === "safe_to_taste" ? null : cautions(verdict.status === "not_safe" ? ["C1", "C11"] : ["C2"]),
    verdict.status === "safe_to_taste" && !sheet.rule.allergens_known ? note(say("allergens_block"), "outside") : null,
    marked.length ? note(marked.join(" · ")) : null, told,
    el("label", { class: "button", for: "photo" }, draft.photo ? `● ${say("photo_taken")}` : say("photo")), picture,
    button(say("mark_browning"), () => keep({ ...draft, at: "browning" })),
    safe ? button(say("taste_it"), () => keep({ ...draft, at: draft.may_taste ? "texture" : "may_taste" })) : null,
    el("div", { class: "push" }),
    bar(takeBack("finish"), button(say("save"), save, "main big")));
}

function askMark(attribute) {
  const allowed = attribute === "browning" || (mayBeTasted(sheet, soFar()) && draft.may_taste === true);
  if (!allowed) {
    keep({ ...draft, at: "finish" });
    return;
  }
  draw(...markScreen(attribute, () => keep({ ...draft, at: "finish" }), (mark) => {
    const next = { ...draft, at: attribute === "texture" ? "moisture" : "finish" };
    if (mark === null) delete next[attribute];
    else next[attribute] = mark;
    return keep(next);
  }));
}

async function intoQueue(finished) {
  const kept = await get("sheets", finished.sheet_id);
  const item = {
    client_id: finished.client_id, sheet_id: finished.sheet_id, signature: kept.signature, dish: kept.sheet.dish, number: kept.sheet.number,
    body: allowedBody(kept.sheet, finished), photo: finished.photo || null, state: "waiting", saved_at: Date.now(),
  };
  await write(["queue", "draft", "sheets"], (queue, drafts, sheets) => {
    queue.add(item);
    drafts.delete("draft");
    sheets.put({ ...kept, cooked: true });
  });
  draft = null;
  return item;
}

// A reading may have been taken back and typed anew after tasting was marked: what is not safe leaves without those marks.
function allowedBody(of, finished) {
  const { texture, moisture, ...eye } = finished;
  return bodyOf(of, mayBeTasted(of, decide(of.rule, cookOf(of, finished))) ? finished : eye);
}

async function save() {
  const verdict = soFar();
  const item = await intoQueue(draft);
  shown = "saved";
  awake?.release?.();
  await saved(verdict, item.client_id);
  flush();
}

async function saved(verdict, client_id) {
  const word = note("");
  const overruled = note("", "outside");
  const told = async () => {
    if (!word.isConnected) return;
    const done = await get("done", client_id);
    const waits = (await all("queue")).find((one) => one.client_id === client_id);
    if (done?.kept && done.kept.verdict !== verdict.status) { // the brief moved on: the server's verdict counts
      page.querySelector(".verdict")?.replaceWith(verdictBlock({ status: done.kept.verdict, reasons: [] }, { short: true }));
      overruled.textContent = say("server_decides");
    }
    word.textContent = done ? `● ${say("is_kept_by_server")}` : waits?.state === "stuck" ? `✕ ${say("needs_you_here")}` : `◐ ${say("kept_here")}`;
    word.className = `note ${done ? "inside" : waits?.state === "stuck" ? "outside" : "close"}`;
  };
  const open = (await all("sheets")).filter((one) => !one.cooked && !one.problem);
  draw(heading(say("saved")), verdictBlock(verdict, { short: true }), overruled, word, el("div", { class: "push" }),
    open.length ? note(say("more_sheets", { count: open.length })) : note(say("last_sheet")),
    bar(button(say("to_sheets"), home, "main")));
  onChange(told);
  await told();
  await header();
}

// ---- coming in -----------------------------------------------------------------------------------------------------------
async function arrive() {
  const given = new URLSearchParams(location.hash.slice(1));
  const [id, signature, paper] = [given.get("sheet"), given.get("s"), given.get("paper")];
  history.replaceState(null, "", location.pathname); // the signature does not stay in the address
  if (!id || !signature) return goOn();
  const known = await get("sheets", id);
  const found = await fetchSheet(id, signature, { paper: Boolean(paper) });
  if (paper && found?.status === 200) {
    await speak(found.body.language);
    shown = "other";
    draw(paperSheet(found.body));
    return header();
  }
  if (!(await get("device", "language"))) await speak(found?.body?.language || known?.sheet.language || preferred());
  const open = (await get("draft", "draft")) || null;
  if (found?.status === 200) {
    const inHand = open?.sheet_id === id;
    await put("sheets", { sheet_id: id, signature, sheet: inHand ? known.sheet : found.body, cooked: known?.cooked || false, problem: null });
    navigator.storage?.persist?.();
  } else if (known && found?.status === 409) {
    // Withdrawn or expired: not begun from what is kept here. A cook already under way goes on; the server tells at saving.
    await put("sheets", { ...known, problem: found.body.error.message });
  } else if (!known) {
    shown = "other";
    draw(heading(say("not_opened")), note(found ? found.body?.error?.message || say("no_answer") : say("no_answer"), "outside"), note(say("open_once")), bar(button(say("to_sheets"), goOn, "main")));
    return header();
  }
  if (open && open.sheet_id !== id) return underWay(open, id);
  if (open) return goOn();
  const kept = await get("sheets", id);
  if (kept.cooked || kept.problem) return home();
  return take(kept);
}

async function underWay(open, id) {
  const other = await get("sheets", open.sheet_id);
  shown = "other";
  const leave = async () => {
    if (open.started_at) await intoQueue({ ...open, completed: false });
    else await remove("draft", "draft");
    flush();
    const kept = await get("sheets", id);
    return kept.cooked ? home() : take(kept);
  };
  draw(heading(say("under_way", { dish: other.sheet.dish, number: other.sheet.number })), note(say("new_sheet_waits")),
    bar(button(say(open.started_at ? "leave_unfinished" : "leave_unstarted"), leave), button(say("go_on"), goOn, "main")));
  await header();
}

onChange(async () => {
  await header();
  // Drawn anew only if something moved: a finger may be on its way to a button.
  const now = JSON.stringify((await all("queue")).map(({ client_id, state, problem, kept }) => [client_id, state, problem, Boolean(kept), isOnline()]));
  if (shown === "waiting" && now !== waitingDrawn) await showWaiting();
});
addEventListener("hashchange", () => { if (location.hash) arrive(); });
addEventListener("online", () => flush());
addEventListener("offline", () => flush());
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState !== "visible") return;
  flush();
  if (shown === "cook" && ["cooking", "resting"].includes(draft?.at)) question();
});
setInterval(flush, SEND_EVERY_MS);

await speak((await get("device", "language"))?.language || preferred());
await arrive();
navigator.serviceWorker?.register("sw.js").catch(() => undefined);
flush();
if (shown === "home") refreshSheets().then(() => (shown === "home" ? home() : undefined));
else refreshSheets();
