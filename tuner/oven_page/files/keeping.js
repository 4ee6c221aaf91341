// What the device keeps, in IndexedDB: every answer is on disk before the next question is drawn.
//   device   who cooks today and today's thermometer check; names used before
//   sheets   cook sheets that were opened, with their signature
//   draft    the cook under way, one at most
//   queue    finished cooks that wait to be sent, in order; removed only after the server said it has them
//   done     the last cooks that were sent, and those put aside by hand: nothing is thrown away
const STORES = { device: "key", sheets: "sheet_id", draft: "key", done: "client_id" };
let opened;

export function database() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open("oven-page", 1);
    asked.onupgradeneeded = () => {
      for (const [name, keyPath] of Object.entries(STORES)) asked.result.createObjectStore(name, { keyPath });
      asked.result.createObjectStore("queue", { keyPath: "place", autoIncrement: true });
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return opened;
}

async function reading(name, how) {
  const asked = how((await database()).transaction(name).objectStore(name));
  return new Promise((resolve, reject) => {
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

export const get = (name, key) => reading(name, (store) => store.get(key));
export const all = (name) => reading(name, (store) => store.getAll());

// One transaction over several stores; resolves when it is on disk.
export async function write(names, change) {
  const transaction = (await database()).transaction(names, "readwrite", { durability: "strict" });
  change(...names.map((name) => transaction.objectStore(name)));
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export const put = (name, value) => write([name], (store) => store.put(value));
export const remove = (name, key) => write([name], (store) => store.delete(key));

// A UUID 4; crypto.randomUUID is missing on plain http.
export function madeId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
