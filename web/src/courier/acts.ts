// What a screen asks of the courier. The courier itself is loaded with the first act, so that a
// screen may show before it.

type Courier = typeof import("./run");

/** Does an act of the courier once it is loaded. Without it, its own next time does the work. */
async function with_courier(act: (courier: Courier) => void | Promise<void>): Promise<void> {
  try {
    await act(await import("./run"));
  } catch {
    // The page is older than the server, or offline before it had all its files.
  }
}

/** Starts the exchange of a phone that was just paired, or exchanges at once. */
export function start_sending(): void {
  void with_courier(({ start }) => start());
}

/** Exchanges now, without waiting for the next time. */
export function send_now(): void {
  void with_courier(({ now_please }) => now_please());
}

/** Counts again what waits and what needs a look. */
export function count_again(): Promise<void> {
  return with_courier(({ recount }) => recount());
}
