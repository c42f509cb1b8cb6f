// Screens that the first paint does not need come after it; offline they are kept with the page.
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

type Loading<Props> = { is: ComponentType<Props> } | { failed: true } | null;

/**
 * Returns a component whose code is loaded when it is first shown. A quiet one shows nothing until
 * then, and nothing if it did not load.
 */
export function later<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
  { quiet = false } = {},
): (props: Props) => preact.JSX.Element | null {
  let loaded: ComponentType<Props> | undefined;
  return function Later(props: Props) {
    const [now, put] = useState<Loading<Props>>(loaded ? { is: loaded } : null);
    const begin = () => {
      put(null);
      load().then(
        (is) => {
          loaded = is;
          put({ is });
        },
        () => put({ failed: true }),
      );
    };
    useEffect(() => {
      if (!loaded) begin();
    }, []);
    if (quiet && !(now && "is" in now)) return null;
    if (now === null) return <p class="quiet">Opening…</p>;
    if ("is" in now) return <now.is {...props} />;
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
