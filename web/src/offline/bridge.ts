// Connects the page with its service worker: it keeps the page on this device, and controls
// updates. Guaranteed: the page reloads only after a tap on "Update", never while one of its
// windows is busy, and once per tap.
import { type ReadonlySignal, signal } from "@preact/signals";
import { busy, tell_other_windows, watch_writing, when_no_window_is_busy } from "./busy";
import type { FromWorker } from "./from_worker";
import { TAKE_OVER } from "./take_over";

export { busy, hold } from "./busy";

export type Shell = { state: "keeping" } | { state: "kept" } | { state: "not kept"; why: string };

const shell_now = signal<Shell>({ state: "keeping" });
/** Whether this device holds the page itself, to open it with no network. */
export const shell: ReadonlySignal<Shell> = shell_now;

/**
 * The state of a new version. `offered` waits for a tap. `held` was tapped while another window was
 * busy. `taken elsewhere` runs in another window while this one is busy. `stuck` was tapped and did
 * not come.
 */
export type Update = "none" | "offered" | "held" | "taking" | "taken elsewhere" | "stuck";

const update_now = signal<Update>("none");
export const update: ReadonlySignal<Update> = update_now;

const LONGEST_TAKING_MS = 15_000;
const LOOK_AGAIN_MS = 30 * 60_000;

let registration: ServiceWorkerRegistration | undefined;
let windows: BroadcastChannel | undefined;
/** Somebody has tapped "Update", here or in another window. */
let taken = false;
/** Another worker serves this window than when it was opened. */
let changed = () => {};
const has_changed = new Promise<void>((resolve) => {
  changed = resolve;
});

/** Keeps the page on this device and watches for new versions. Call it once, after paint. */
export async function keep_shell(): Promise<void> {
  watch_writing();
  tell_other_windows();
  if (!("serviceWorker" in navigator)) {
    return not_kept("This browser keeps no pages for offline use.");
  }
  listen();
  try {
    registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
    watch(registration);
    look_for_updates(registration);
  } catch {
    not_kept("The page could not be saved on this device. Check the signal and open it again.");
  }
}

/** Resolves once the page is kept, or cannot be, or the wait was long enough. */
export function shell_settled(longest_wait_ms = 10_000): Promise<void> {
  return new Promise((resolve) => {
    const ring = setTimeout(resolve, longest_wait_ms);
    shell.subscribe(({ state }) => {
      if (state === "keeping") return;
      clearTimeout(ring);
      resolve();
    });
  });
}

/** Takes the waiting version, unless a window is busy; every window reloads once. */
export async function take_update(): Promise<void> {
  const ran = await when_no_window_is_busy(async () => {
    const waiting = registration?.waiting;
    if (!waiting) {
      update_now.value = "none";
      return;
    }
    update_now.value = "taking";
    taken = true;
    windows?.postMessage("taken");
    waiting.postMessage(TAKE_OVER);
    await Promise.race([has_changed, new Promise((late) => setTimeout(late, LONGEST_TAKING_MS))]);
    if (update_now.peek() === "taking") update_now.value = "stuck";
  });
  if (!ran) update_now.value = "held";
}

/** Has a listener called after each tap on a notification. */
export function when_told(take: (told: FromWorker) => void): void {
  navigator.serviceWorker?.addEventListener("message", ({ data }) => take(data ?? {}));
}

/** Loads the version that another window has taken; the person says when. */
export function reload(): void {
  location.reload();
}

function listen(): void {
  windows = new BroadcastChannel("basinside.update");
  windows.addEventListener("message", () => {
    taken = true;
    void has_changed.then(follow);
  });
  let served = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // The first worker to serve this window brings what the window already shows.
    if (served || taken) changed();
    served = true;
    shell_now.value = { state: "kept" };
    if (taken) follow();
  });
}

let followed = false;

/** Loads the new version once, or says that it is there if this window is busy. */
function follow(): void {
  if (followed) return;
  followed = true;
  if (busy.peek().length > 0) update_now.value = "taken elsewhere";
  else reload();
}

function watch(mine: ServiceWorkerRegistration): void {
  const look = () => {
    if (mine.active) shell_now.value = { state: "kept" };
    if (mine.waiting && mine.active) update_now.value = "offered";
  };
  const follow_install = () => {
    const coming = mine.installing;
    coming?.addEventListener("statechange", () => {
      look();
      // Half a version is never kept: the browser drops it and fetches it again next time.
      if (coming.state === "redundant" && !mine.active) {
        not_kept(
          "The page could not be saved on this device. Check the signal and free some space.",
        );
      }
    });
  };
  mine.addEventListener("updatefound", follow_install);
  follow_install();
  look();
}

function look_for_updates(mine: ServiceWorkerRegistration): void {
  let looked_at_ms = Date.now();
  const look = () => {
    if (document.hidden || Date.now() - looked_at_ms < LOOK_AGAIN_MS) return;
    looked_at_ms = Date.now();
    // Without a network there is no new version; the next look finds it.
    mine.update().catch(() => {});
  };
  document.addEventListener("visibilitychange", look);
  addEventListener("online", look);
}

function not_kept(why: string): void {
  shell_now.value = { state: "not kept", why };
}
