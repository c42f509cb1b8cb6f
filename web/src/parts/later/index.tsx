// Screens that the first paint does not need come after it; offline they are kept with the page.
import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";

type Loading<Props> = "not asked" | "asked" | "failed" | { is: ComponentType<Props> };

/**
 * Returns a component whose code is loaded when it is first shown. A quiet one shows nothing until
 * then, and nothing if it did not load.
 */
export function later<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
  { quiet = false } = {},
): (props: Props) => preact.JSX.Element | null {
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
  return function Later(props: Props) {
    const now = loading.value;
    useEffect(() => {
      const before = loading.peek();
      if (before === "not asked" || before === "failed") begin();
    }, []);
    if (typeof now === "object") return <now.is {...props} />;
    if (quiet) return null;
    if (now !== "failed") return <p class="quiet">Opening…</p>;
    return (
      <div class="stack" role="status">
        <p>This part of the page did not load. Check the signal, then try again.</p>
        <button type="button" onClick={begin}>
          Try again
        </button>
      </div>
    );
  };
}
