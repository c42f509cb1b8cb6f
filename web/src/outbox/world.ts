// Which records this window shows: the salon's own, or the invented ones of the demo day.
//
// Each of the two has a database, settings and messages of its own, under other names, so that
// neither can hold a row of the other. It is settled as the page loads and never changes after
// that: to open or to leave the demo day is to load the page again.
const DEMO = "basinside.world.demo";

/** What the names of kept values begin with, by world. */
export const PREFIXES = { own: "basinside.1.", demo: "basinside.demo." } as const;

/** Since when this window has the demo day open, in ms since 1970; undefined where it has not. */
export const demo_since_ms: number | undefined = since();

/** Whether this window shows the demo day. */
export const in_demo: boolean = demo_since_ms !== undefined;

function since(): number | undefined {
  try {
    const text = sessionStorage.getItem(DEMO);
    const at_ms = Number(text);
    return text && Number.isFinite(at_ms) ? at_ms : undefined;
  } catch {
    // Where storage is forbidden there is no demo day.
    return undefined;
  }
}

/** Returns a store's or channel's name in this window's world. */
export function named_here(name: string): string {
  return in_demo ? `${name} demo` : name;
}

/** Has this window open in the demo day, or in the salon's own records, once it is loaded again. */
export function choose_world(demo: boolean, now_ms: number): void {
  if (demo) sessionStorage.setItem(DEMO, String(now_ms));
  else sessionStorage.removeItem(DEMO);
}

/** Whether something of a demo day is left in this browser. */
export function demo_is_left(): boolean {
  try {
    return Object.keys(localStorage).some((name) => name.startsWith(PREFIXES.demo));
  } catch {
    return false;
  }
}
