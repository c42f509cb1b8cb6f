// Whether the page is installed as an app on this device, and the browser's own offer to do it.
import { type ReadonlySignal, signal } from "@preact/signals";

/** The browser's own offer to install the page, if it makes one. */
interface InstallOffer extends Event {
  prompt(): Promise<{ outcome: "accepted" | "dismissed" }>;
}

const offer = signal<InstallOffer | undefined>();
const as_app = globalThis.matchMedia?.("(display-mode: standalone)");
const installed_now = signal((as_app?.matches ?? false) || on_home_screen());

/** True if the page runs as an installed app, or has just been installed. */
export const installed: ReadonlySignal<boolean> = installed_now;

/** True if `install` can be called. */
export const can_ask: ReadonlySignal<InstallOffer | undefined> = offer;

as_app?.addEventListener("change", () => {
  installed_now.value ||= as_app.matches;
});
globalThis.addEventListener?.("beforeinstallprompt", (event) => {
  // Kept for the settings: the browser would otherwise ask in the middle of the work.
  event.preventDefault();
  offer.value = event as InstallOffer;
});
globalThis.addEventListener?.("appinstalled", () => {
  installed_now.value = true;
  offer.value = undefined;
});

/** Has the browser ask whether to install the page; an offer works once. */
export async function install(): Promise<void> {
  const once = offer.peek();
  offer.value = undefined;
  await once?.prompt();
}

function on_home_screen(): boolean {
  // Only the phones that lack the media query in older versions have this.
  return (globalThis.navigator as { standalone?: boolean } | undefined)?.standalone === true;
}
