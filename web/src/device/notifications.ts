// Notifications of this device: whether it may show them, asking for that while hands are bare, and
// showing one for an alarm. The page works without them, and says so once before the first clock.
import { type ReadonlySignal, signal } from "@preact/signals";
import { HEARD } from "../offline/from_worker";
import { in_demo } from "../outbox/world";
import { kept } from "./kept";

/** `open` while nobody has answered; `missing` where the browser has none. */
export type Leave = "granted" | "denied" | "open" | "missing";

function leave_here(): Leave {
  // The demo day never rings outside its window, nor takes away what the salon's own clocks show.
  if (in_demo || !("Notification" in globalThis)) return "missing";
  const { permission } = Notification;
  return permission === "default" ? "open" : permission;
}

const leave_now = signal<Leave>(leave_here());
/** Whether this device lets the page notify. */
export const leave: ReadonlySignal<Leave> = leave_now;

const put_off = kept("notifications_put_off", false);
const told = kept("notifications_off_told", false);

/** Whether the person has still to be asked: nobody answered the browser, or said "not now". */
export function asks_leave(): boolean {
  return leave_now.value === "open" && !put_off.value;
}

/** Has the browser ask. Call it in a tap: browsers take it at no other time. */
export async function ask_leave(): Promise<void> {
  await Notification.requestPermission().catch(() => undefined);
  leave_now.value = leave_here();
  // Some browsers let their own question be put away unanswered: that is an answer too.
  if (leave_now.peek() === "open") put_off.value = true;
}

/** Remembers that nobody wants to be asked. */
export function leave_it(): void {
  put_off.value = true;
}

/** Says what a device without notifications needs, until its first clock has begun; else "". */
export function told_once(): string {
  return leave_now.value !== "granted" && !told.value && !in_demo
    ? "Notifications are off on this phone. Keep Basinside on the screen and the sound on while a clock runs."
    : "";
}

/** Notes that a clock began here: what had to be said was said. */
export function clock_began(): void {
  leave_now.value = leave_here();
  if (told_once()) told.value = true;
}

export interface Told {
  words: string;
  /** The same for the same alarm, on whichever showing. */
  key: string;
  /** Where a tap on it goes, as the page's own address. */
  address: string;
}

const HEAR = { action: HEARD, title: "Heard" };

let turn: Promise<unknown> = Promise.resolve();

/** One after the other: what is on its way to be shown can only then be taken away. */
function in_turn(work: (registration: ServiceWorkerRegistration) => Promise<void>): void {
  leave_now.value = leave_here();
  if (leave_now.peek() !== "granted") return;
  // On phones only a service worker may notify; a missing one is no fault.
  turn = turn
    .then(() => navigator.serviceWorker?.getRegistration())
    .then((registration) => registration && work(registration))
    .catch(() => undefined);
}

/** Shows a notification, if this device may and can. */
export function notify({ words, key, address }: Told): void {
  const options = { tag: key, data: { key, address }, requireInteraction: true, actions: [HEAR] };
  in_turn((registration) => registration.showNotification(words, options));
}

/** Takes away every notification of an alarm that is not among these: somebody has heard it. */
export function keep_only(keys: readonly string[]): void {
  in_turn(async (registration) => {
    for (const notification of await registration.getNotifications()) {
      if (!keys.includes(notification.tag)) notification.close();
    }
  });
}
