// One quiet line until this device works without a signal, with how much of that is there.
import { useEffect, useState } from "preact/hooks";
import { device, start } from "../../engine/device";
import { was_tested } from "../../engine/kept_here";
import { shell } from "../../offline/bridge";
import { window_forgets } from "../../offline/storage";
import { signal_words } from "./signal_words";

/** Returns the line; nothing once the page and its tested engine are kept here. */
export function SignalLine() {
  // Undefined until it is known: a device that is ready says nothing as it opens.
  const [tested, put_tested] = useState<boolean | undefined>(undefined);
  useEffect(() => void was_tested().then(put_tested), []);
  const now = device.value;
  const is_ready = now.state === "ready" && now.kept;
  useEffect(() => {
    if (is_ready) put_tested(true);
  }, [is_ready]);
  if (tested === undefined) return null;
  const words = signal_words(shell.value, now, window_forgets.value, tested);
  if (!words) return null;
  return (
    <div class="stack signal-line">
      <p class="quiet">{words}</p>
      {now.state === "failed" && shell.value.state === "kept" && (
        <button type="button" onClick={() => void start()}>
          Try again
        </button>
      )}
    </div>
  );
}
