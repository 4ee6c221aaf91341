// What waits to be sent, what was refused and why, and the way on for each. Nothing is thrown away.
import { all } from "./keeping.js";
import { bar, button, el, heading, note } from "./drawing.js";
import { flush, isOnline, putAside, sendAgain } from "./sending.js";
import { say } from "./words.js";

const DAY_MS = 24 * 3600 * 1000;

export async function waitingScreen(back) {
  const queue = await all("queue");
  const waiting = queue.filter((one) => one.state === "waiting");
  const stuck = queue.filter((one) => one.state === "stuck");
  const done = (await all("done")).sort((a, b) => (b.sent_at || b.aside_at) - (a.sent_at || a.aside_at)).slice(0, 10);
  return [
    heading(say("sending")),
    note(say(isOnline() ? "online_now" : "offline_now")),
    stuck.length ? el("h2", {}, say("needs_you", { count: stuck.length })) : null,
    ...stuck.map(stuckCard),
    el("h2", {}, say("waiting_n", { count: waiting.length })),
    ...waiting.map((one) => el("p", { class: "line" }, title(one),
      Date.now() - one.saved_at > DAY_MS ? el("strong", {}, ` ${say("waits_long")}`) : null)),
    done.length ? el("h2", {}, say("sent_lately")) : null,
    ...done.map((one) => el("p", { class: "line" }, `${one.aside_at ? "◌" : "●"} ${title(one)} · ${say(one.aside_at ? "put_aside" : "is_kept")}${one.kept ? ` · ${say(one.kept.verdict)}` : ""}`)),
    bar(button(say("back"), back), button(say("send_now"), () => flush(), "main")),
  ];
}

const title = (one) => `${one.dish} · ${say("sheet_n", { number: one.number })} · ${new Date(one.saved_at).toLocaleString()}`;

function stuckCard(one) {
  const { code } = one.problem;
  const more = { ...one.body, accept: [...new Set([...(one.body.accept || []), code])] };
  const ways = [];
  if (one.problem.may_be_accepted) ways.push(button(say("send_all_the_same"), () => sendAgain(one, { body: more }), "main"));
  if (code === "questions") {
    const confirmed = [...(one.body.cook.confirmed || []), ...one.problem.questions.map((question) => question.code)];
    const meant = { ...one.body, cook: { ...one.body.cook, confirmed } };
    ways.push(button(say("all_meant"), () => sendAgain(one, { body: meant }), "main"));
  }
  if (code === "not_allowed" && tasted(one)) {
    ways.push(button(say("send_without_tasting"), () => sendAgain(one, { body: withoutTasting(one.body), before: one.body }), "main"));
  }
  if (one.problem.of === "photo") ways.push(button(say("send_without_photo"), () => sendAgain(one, { photo: null }), "main"));
  ways.push(button(say("try_again"), () => sendAgain(one, {})));
  ways.push(asFile(one));
  ways.push(button(say("put_aside_now"), () => putAside(one)));
  const known = ["sheet_withdrawn", "sheet_expired", "sheet_cooked", "recipe_changed", "other_content", "not_found"].includes(code);
  return el("section", { class: "stuck" }, el("h3", {}, title(one)),
    note(known ? say(`problem_${code}`) : say("problem_other")), el("p", { class: "said" }, one.problem.message), ...ways);
}

const tasted = (one) => (one.body.cook.scores || []).some((score) => score.texture != null || score.moisture != null);

function withoutTasting(body) {
  const seen = body.cook.scores.filter((score) => score.browning != null).map(({ taster, browning }) => ({ taster, browning }));
  const { scores, ...cook } = body.cook;
  const { may_taste, ...rest } = body;
  return { ...rest, cook: seen.length ? { ...cook, scores: seen } : cook };
}

function asFile(one) {
  const { photo, signature, ...plain } = one;
  const address = URL.createObjectURL(new Blob([JSON.stringify(plain, null, 2)], { type: "application/json" }));
  return el("a", { class: "button", href: address, download: `cook-${one.client_id}.json` }, say("as_file"));
}
