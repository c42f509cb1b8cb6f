// Keeps the page's own files on this device all at once, so that it opens with no network. A new
// version is fetched beside the present one and waits. It takes over when the page says so
// (bridge.ts), or when no window of the page is open. Calculations and records never come here.
import { createHandlerBoundToURL, precacheAndRoute } from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";
import { whole_list } from "./engine_list";
import { type FromWorker, HEARD } from "./from_worker";
import { keep_shared } from "./shared_in";
import { TAKE_OVER } from "./take_over";
import { fetch_together } from "./together";

declare const self: ServiceWorkerGlobalScope & {
  __WB_MANIFEST: { url: string; revision: string | null }[];
};

// Named by its content, so a kept file is never stale. The engine's loader keeps the pack, with
// progress, and removes old ones; this worker only hands it out.
const ENGINE = /^\/assets\/engine-[0-9a-f]+\//;

const KEPT: { url: string; revision: string | null }[] = self.__WB_MANIFEST;
const LIST = KEPT.find(({ url }) => url === "engine.json")?.revision;

self.addEventListener("install", (event) => event.waitUntil(fetch_together(KEPT)));

if (LIST) {
  registerRoute(
    ({ url, sameOrigin }) => sameOrigin && url.pathname === "/engine.json",
    () => whole_list(LIST),
  );
}

// Any text after "?" in the page's address means the same page.
precacheAndRoute(KEPT, { ignoreURLParametersMatching: [/./], cleanURLs: false });

registerRoute(
  ({ url, sameOrigin }) => sameOrigin && ENGINE.test(url.pathname),
  // A damaged piece comes again past every cache.
  async ({ request }) =>
    (request.cache !== "reload" && (await caches.match(request.url))) || fetch(request),
);

// What another program shares arrives as a form. It never reaches the server.
registerRoute(
  ({ url, sameOrigin }) => sameOrigin && url.pathname === "/shared",
  async ({ request }) => Response.redirect(await keep_shared(request), 303),
  "POST",
);

// An old bookmark opens the page, as the server has it. What begins so, or names a file, does not.
registerRoute(
  new NavigationRoute(createHandlerBoundToURL("/index.html"), {
    denylist: [/^\/(api|assets|docs|openapi)(\/|$|\?)/, /\.[^/?]*(\?|$)/],
  }),
);

self.addEventListener("message", ({ data: told }) => {
  if (told === TAKE_OVER) void self.skipWaiting();
});

// The window that started this worker is served by it from now on, not only after a reload.
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

// A tap on a notification of an alarm opens the service that rings, or hears it by its own button.
self.addEventListener("notificationclick", (event) => {
  const { action, notification } = event as NotificationEvent;
  const { key, address = "#/today" } = (notification.data ?? {}) as Partial<AlarmShown>;
  notification.close();
  (event as NotificationEvent).waitUntil(taken_up(address, action === HEARD ? key : undefined));
});

interface AlarmShown {
  key: string;
  address: string;
}

async function taken_up(address: string, heard: string | undefined): Promise<void> {
  const every = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  // The document of the API is a window of ours too, and no page of the app.
  const windows = every.filter(({ url }) => /^\/(index\.html)?$/.test(new URL(url).pathname));
  const shown = windows.find(({ visibilityState }) => visibilityState === "visible") ?? windows[0];
  if (!shown) {
    await self.clients.openWindow(`/${address}`);
    return;
  }
  const told: FromWorker = heard === undefined ? { go_to: address } : { heard };
  shown.postMessage(told);
  // Told before: a window that the system keeps in the background still goes there.
  if (heard === undefined) await shown.focus().catch(() => undefined);
}
