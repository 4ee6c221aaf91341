// Keeps the files of the page on the device, so that it opens without network. Calls of the interface are never kept.
const NAME = "oven-page-1";
const SHELL = [
  "./", "entry.css", "entry.js", "drawing.js", "keeping.js", "keypad.js", "paper.js", "photo.js", "questions.js", "sending.js", "steps.js",
  "tasting.js", "verdict.js", "waiting.js", "words.js", "words-en.json", "words-de.json", "manifest.webmanifest", "mark.svg",
];
const FONTS = ["/app/static/atkinson-next-latin.woff2", "/app/static/atkinson-next-latin-ext.woff2"];

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const kept = await caches.open(NAME);
    await kept.addAll(SHELL.map((path) => new Request(path, { cache: "reload" })));
    await Promise.allSettled(FONTS.map((path) => kept.add(path))); // the page works without its font
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("oven-page-") && name !== NAME) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin || url.pathname.startsWith("/oven/api/")) return;
  const asked = event.request.mode === "navigate" ? new Request("./") : event.request;
  event.respondWith((async () => {
    const kept = await caches.open(NAME);
    const found = await kept.match(asked, { ignoreSearch: true });
    const fresh = fetch(asked).then((answer) => {
      if (answer.ok) return kept.put(asked, answer.clone()).then(() => answer);
      return answer;
    });
    if (!found) return fresh;
    event.waitUntil(fresh.catch(() => undefined)); // refreshed behind
    return found;
  })());
});
