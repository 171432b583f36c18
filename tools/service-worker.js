/**
 * Keeps the files of the page, so that it opens without a network. The build puts in the list of files and their version.
 *
 * Always holds: a page is served from one version; a newer one waits until a page says to use it; files of the version
 * before stay for pages that are still open in it; what is not of the page is left to the network.
 */
const VERSION = "VERSION";
/** @type {readonly string[]} */
const FILES = ["FILES"];
const NAME = "ruling-grade page ";
const PAGE = "index.html";

/** @param {string} file */
const address = (file) => new URL(file, self.registration.scope).href;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(NAME + VERSION).then((cache) =>
      // Names of files in assets tell their contents; the page's own does not.
      cache.addAll(
        FILES.map((file) => new Request(address(file), { cache: file.startsWith("assets/") ? "default" : "reload" })),
      ),
    ),
  );
});

self.addEventListener("activate", (event) => {
  const tidy = async () => {
    const ours = (await caches.keys()).filter((name) => name.startsWith(NAME) && name !== NAME + VERSION);
    // In the order they were made; the last is the version other pages may still be open in.
    await Promise.all(ours.slice(0, -1).map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

self.addEventListener("message", (event) => {
  if (event.data === "use this version") void self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  const answer = async () => {
    const cache = await caches.open(NAME + VERSION);
    const page = request.mode === "navigate" && [address(""), address(PAGE)].includes(request.url.split(/[?#]/)[0]);
    const kept = page
      ? await cache.match(address(PAGE))
      : ((await cache.match(request)) ?? (await caches.match(request)));
    return kept ?? fetch(request);
  };
  event.respondWith(answer());
});
