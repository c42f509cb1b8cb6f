// Screens that the first paint does not need come after it; offline they are kept with the page.
import { effect, signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect, useLayoutEffect } from "preact/hooks";
import "./style.css";

type Loading<Props> = "not asked" | "asked" | "failed" | { is: ComponentType<Props> };

interface LaterOptions {
  /** It shows nothing until then, and nothing if it did not load. */
  quiet?: boolean;
  /** It is quiet, and is loaded once all else on the screen is there. */
  after?: boolean;
  /** It keeps the height of a screen until then, so that what is under it does not move in sight. */
  tall?: boolean;
}

type Later<Props> = ((props: Props) => preact.JSX.Element | null) & {
  /** Loads the code before it is shown; what does not load is asked for again when it is. */
  ahead: () => void;
};

/** How many things on the screen are still to come. */
const opening = signal(0);
/** What has come may show more, which is asked for in a frame of its own. */
const STILL_MS = 200;
/** A part that hangs on a bad line keeps the rest waiting no longer. */
const LONGEST_MS = 10_000;
let was_open = false;

/** Counts something as still to come; returns what says that it is there. */
function still_to_come(): () => void {
  opening.value = opening.peek() + 1;
  return () => {
    opening.value = opening.peek() - 1;
  };
}

/** Counts something as still to come until it is settled. */
export function opens_with(coming: Promise<unknown>): void {
  const end = still_to_come();
  coming.then(end, end);
}

/**
 * Resolves once all on the screen is there: what waits for this takes no signal from it. The page's
 * root says from then on that it is open.
 */
export function all_is_open(): Promise<void> {
  if (was_open && opening.peek() === 0) return Promise.resolve();
  return new Promise((resolve) => {
    let still: ReturnType<typeof setTimeout> | undefined;
    const open = () => {
      clearTimeout(still);
      clearTimeout(longest);
      end();
      was_open = true;
      document.documentElement.dataset.open = "";
      resolve();
    };
    const longest = setTimeout(open, LONGEST_MS);
    const end = effect(() => {
      clearTimeout(still);
      if (opening.value === 0) still = setTimeout(open, STILL_MS);
    });
  });
}

/** Loads the parts of a page that are not open yet, once those that are open are there. */
export function use_ahead(parts: readonly { ahead: () => void }[]): void {
  useEffect(() => {
    void all_is_open().then(() => {
      for (const { ahead } of parts) ahead();
    });
  }, []);
}

/** Returns a component whose code is loaded when it is first shown. */
export function later<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
  { quiet = false, after = false, tall = false }: LaterOptions = {},
): Later<Props> {
  // One for all places that show it: it may come between one's drawing and its first effect.
  const loading = signal<Loading<Props>>("not asked");
  const begin = () => {
    loading.value = "asked";
    load().then(
      (is) => {
        loading.value = { is };
      },
      () => {
        loading.value = "failed";
      },
    );
  };
  const ahead = () => {
    const now = loading.peek();
    if (now === "not asked" || now === "failed") begin();
  };
  const is_quiet = quiet || after;
  function Part(props: Props) {
    const now = loading.value;
    const is_coming = !is_quiet && (now === "not asked" || now === "asked");
    useEffect(() => {
      if (after) void all_is_open().then(ahead);
      else ahead();
    }, []);
    useLayoutEffect(() => (is_coming ? still_to_come() : undefined), [is_coming]);
    if (typeof now === "object") return <now.is {...props} />;
    if (is_quiet) return tall && now !== "failed" ? <div class="later-tall" /> : null;
    if (now !== "failed") return <p class={tall ? "quiet later-tall" : "quiet"}>Opening…</p>;
    return (
      <div class="stack" role="status">
        <p>This part of the page did not load. Check the signal, then try again.</p>
        <button type="button" onClick={begin}>
          Try again
        </button>
      </div>
    );
  }
  return Object.assign(Part, { ahead });
}
