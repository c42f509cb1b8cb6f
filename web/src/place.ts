// The current place in the page. It is in the URL fragment. So the phone's own way back works, a
// reload stays, and a card's printed address opens the record without a server.
import { computed, signal } from "@preact/signals";

const PLACES = [
  "today",
  "clients",
  "formulas",
  "shelf",
  "try",
  "settings",
  "client",
  "formula",
  "line",
  "service",
  "pair",
  "look",
  "desk",
  // An alert test, a new one for a client, and those of the coming days.
  "test",
  "new_test",
  "tests",
  // A reaction, by the service or the client; and a service on paper.
  "reaction",
  "record",
  // Files that another program gave to the app.
  "shared",
  // The swatches of a line: planned, painted, read.
  "swatches",
] as const;
export type PlaceName = (typeof PLACES)[number];

interface Place {
  name: PlaceName;
  /** The record that is open there; empty if the place shows no single one. */
  id: string;
}

const START: Place = { name: "today", id: "" };

/** Returns the place an address names; the start if it names none. */
export function read_place(hash: string): Place {
  const [name = "", id = ""] = hash.replace(/^#\/?/, "").split("/");
  const known = PLACES.find((place) => place === name);
  return known ? { name: known, id: decoded(id) } : START;
}

/** Returns the address of a place: "#/client/0199…". */
export function address_of(name: PlaceName, id = ""): string {
  return id ? `#/${name}/${encodeURIComponent(id)}` : `#/${name}`;
}

function decoded(id: string): string {
  try {
    return decodeURIComponent(id);
  } catch {
    return "";
  }
}

/**
 * Returns the page's own address for one that a browser opened: "/#/settings" for "/settings", which
 * an old bookmark may be, and undefined where it is one already.
 */
export function own_address(pathname: string, hash: string): string | undefined {
  if (/^\/(index\.html)?$/.test(pathname)) return undefined;
  return `/${hash || `#${pathname}`}`;
}

const opened_as = globalThis.location && own_address(location.pathname, location.hash);
// What counts windows of the page, and each way within it, knows it by this one path.
if (opened_as) history.replaceState(null, "", opened_as);

const hash = signal(globalThis.location?.hash ?? "");
// Whether the page itself is going somewhere, as after an act that leads on.
let leads = false;
let was_led = false;
globalThis.addEventListener?.("hashchange", () => {
  // A link to a part of the page, such as the cautions, is no place.
  if (location.hash !== "" && !location.hash.startsWith("#/")) return;
  gone += 1;
  arrive(leads);
});

export const place = computed(() => read_place(hash.value));

/** Whether the page itself went to the present place; else a link did, or the phone's way back. */
export function was_led_here(): boolean {
  return was_led;
}

function arrive(led: boolean): void {
  leads = false;
  was_led = led;
  hash.value = location.hash;
}

/** Goes to a place, and keeps the one before for the way back. */
export function go(name: PlaceName, id = ""): void {
  leads = location.hash !== address_of(name, id);
  location.hash = address_of(name, id);
}

let gone = 0;

/** Goes back to the place before, or to the start if the page was opened here. */
export function back(): void {
  if (gone > 0) history.back();
  else go_instead("today");
}

/** Goes to a place instead of the present one, which the way back then skips. */
export function go_instead(name: PlaceName, id = ""): void {
  history.replaceState(null, "", address_of(name, id));
  arrive(true);
}
