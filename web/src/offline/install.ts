// How this device takes the page in as an app. Browsers differ, and only some let the page ask.
import { type ReadonlySignal, signal } from "@preact/signals";

/** What the page runs on, as far as the way to install it goes. */
type System = "ios" | "android" | "desktop";

/** The browser's own offer to install the page, where it makes one. */
interface InstallOffer extends Event {
  prompt(): Promise<{ outcome: "accepted" | "dismissed" }>;
}

const offer = signal<InstallOffer | undefined>();
const as_app = globalThis.matchMedia?.("(display-mode: standalone)");
const installed_now = signal((as_app?.matches ?? false) || on_home_screen());

/** True where the page runs as an installed app, or has just been installed. */
export const installed: ReadonlySignal<boolean> = installed_now;

/** True where `install` can be called. */
export const can_ask: ReadonlySignal<InstallOffer | undefined> = offer;

as_app?.addEventListener("change", () => {
  installed_now.value ||= as_app.matches;
});
globalThis.addEventListener?.("beforeinstallprompt", (event) => {
  // Kept for the settings: the browser would otherwise ask over whatever is being done.
  event.preventDefault();
  offer.value = event as InstallOffer;
});
globalThis.addEventListener?.("appinstalled", () => {
  installed_now.value = true;
  offer.value = undefined;
});

/** Has the browser ask whether to install the page; an offer serves once. */
export async function install(): Promise<void> {
  const once = offer.peek();
  offer.value = undefined;
  await once?.prompt();
}

/** Returns the system a browser names itself by. */
export function system_of(user_agent: string, touch_points: number): System {
  if (/iPhone|iPad|iPod/.test(user_agent)) return "ios";
  // A tablet of the same maker asks for desktop pages, and no desktop of theirs has a touch screen.
  if (/Macintosh/.test(user_agent) && touch_points > 1) return "ios";
  return /Android/.test(user_agent) ? "android" : "desktop";
}

/** Returns how to install the page by hand, step by step. */
export function steps_of(system: System): readonly string[] {
  switch (system) {
    case "ios":
      return [
        "Open this page in Safari.",
        "Tap Share (the square with the arrow), then “Add to Home Screen”.",
        "From then on open Basinside from its picture on the home screen.",
      ];
    case "android":
      return [
        "Open the browser's menu (the three dots).",
        "Tap “Install app”, or “Add to home screen”.",
        "From then on open Basinside from its picture.",
      ];
    case "desktop":
      return [
        "Tap the install sign at the end of the address, or in the browser's menu “Install” or “Add to Dock”.",
        "A browser that offers neither keeps the page too, as a tab: it opens with no network.",
      ];
  }
}

/** Returns why to install, and why before anything is entered; each as one sentence. */
export function reasons_of(system: System): readonly string[] {
  switch (system) {
    case "ios":
      return [
        "Do it first, before you enter anything: the app on the home screen does not get what was entered in this tab.",
        "In a tab, Safari deletes all that a page keeps once you have used Safari for seven days without opening the page. The app counts its own days of use.",
      ];
    case "android":
      return [
        "An installed app's storage is more readily kept when the phone runs short of space.",
        "It opens full screen, with nothing of the browser under your thumb.",
      ];
    case "desktop":
      return [
        "An installed app's storage is more readily kept when the disk runs short.",
        "It has a window of its own, so it is not closed with the tabs.",
      ];
  }
}

function on_home_screen(): boolean {
  // Only the phones that lack the media query in older versions have this.
  return (globalThis.navigator as { standalone?: boolean } | undefined)?.standalone === true;
}
