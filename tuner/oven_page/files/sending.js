// Talks to the server. Finished cooks are sent in order, each until the server says that it has it; nothing is deleted without that.
import { all, get, put, write } from "./keeping.js";

const API = "api/v1";
const KEPT_DONE = 60;
let online = null; // null: not known yet
let sending = null;
const listeners = new Set();
export const onChange = (listener) => listeners.add(listener);
export const isOnline = () => online;

async function changed(now) {
  if (now !== undefined) online = now;
  for (const listener of listeners) await listener();
}

// null: no answer; else {status, body}
async function call(path, signature, options = {}) {
  try {
    const answer = await fetch(`${API}/${path}`, {
      ...options, cache: "no-store", credentials: "omit",
      headers: { "X-Oven-Page": "1", ...(signature ? { "X-Sheet-Signature": signature } : {}), ...(options.headers || {}) },
    });
    return { status: answer.status, body: await answer.json() };
  } catch {
    return null; // no network, the server is away, or something in between answered in its place
  }
}

export async function fetchSheet(sheet_id, signature, { paper = false } = {}) {
  const found = await call(`sheets/${encodeURIComponent(sheet_id)}${paper ? "?paper=1" : ""}`, signature);
  await changed(found !== null && found.status < 500);
  return found;
}

// Sheets kept here that are not cooked yet are asked for again: one may have been withdrawn or changed meanwhile.
export async function refreshSheets() {
  for (const kept of await all("sheets")) {
    if (kept.cooked) continue;
    const found = await call(`sheets/${kept.sheet_id}`, kept.signature);
    if (found === null || found.status >= 500) return changed(false);
    const now = await get("sheets", kept.sheet_id);
    if (now?.cooked) continue;
    // A sheet in hand is not changed under the cook: the server tells at saving what moved on.
    const inHand = (await get("draft", "draft"))?.sheet_id === kept.sheet_id;
    if (found.status === 200) await put("sheets", { ...kept, sheet: inHand ? kept.sheet : found.body, problem: null });
    else await put("sheets", { ...kept, problem: found.body.error.message });
  }
  return changed(true);
}

export function flush() {
  sending ??= flushed().finally(() => { sending = null; });
  return sending;
}

async function flushed() {
  const waiting = (await all("queue")).filter((one) => one.state === "waiting");
  if (!waiting.length) {
    const alive = await call("alive");
    return changed(alive?.body.alive === true);
  }
  for (const one of waiting) if (!(await sent(one))) return changed(false);
  return changed(true);
}

// Whether to go on with the next one.
async function sent(one) {
  let item = one;
  const path = `sheets/${encodeURIComponent(one.sheet_id)}/cooks`;
  if (!one.kept) {
    const found = await call(path, one.signature, {
      method: "POST", body: JSON.stringify(one.body), headers: { "Content-Type": "application/json" },
    });
    if (later(found)) return false;
    if (found.status >= 300) {
      await put("queue", { ...one, state: "stuck", problem: found.body.error });
      return true;
    }
    item = { ...one, kept: found.body };
    await put("queue", item);
  }
  if (item.photo) {
    const found = await call(`${path}/${item.client_id}/photo`, item.signature, {
      method: "PUT", body: item.photo, headers: { "Content-Type": "image/jpeg" },
    });
    if (later(found)) return false;
    if (found.status >= 300) {
      await put("queue", { ...item, state: "stuck", problem: { ...found.body.error, of: "photo" } });
      return true;
    }
  }
  const { photo, ...done } = item;
  const old = (await all("done")).filter((kept) => kept.sent_at).sort((a, b) => a.sent_at - b.sent_at).slice(0, -KEPT_DONE);
  await write(["queue", "done"], (queue, kept) => {
    queue.delete(item.place);
    kept.put({ ...done, had_photo: Boolean(photo), sent_at: Date.now() });
    for (const gone of old) kept.delete(gone.client_id);
  });
  return true;
}

const later = (found) => found === null || found.status >= 500 || found.status === 408 || found.status === 429 || !known(found);
// An answer that is not in the form of the interface came from something in between (a sign-in page of the network).
const known = (found) => (found.status < 300 ? typeof found.body === "object" : Boolean(found.body?.error?.code));

export async function sendAgain(one, change) {
  await put("queue", { ...one, ...change, state: "waiting", problem: null });
  await changed();
  return flush();
}

export async function putAside(one) {
  await write(["queue", "done"], (queue, kept) => {
    queue.delete(one.place);
    kept.put({ ...one, aside_at: Date.now() });
  });
  await changed();
}
