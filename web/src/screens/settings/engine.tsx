// Whether this device calculates by itself, in words.
import { type Device, device, is_fetching, start } from "../../engine/device";
import { fetched_words } from "../../engine/where";

/** Returns the state of the engine on this device, and a way to try again after a failure. */
export function EngineHere() {
  const now = device.value;
  return (
    <div class="stack" id="engine">
      <h3>Calculations on this device</h3>
      <p role="status">{words(now)}</p>
      {now.state === "failed" && (
        <button type="button" onClick={() => void start()}>
          Try again
        </button>
      )}
    </div>
  );
}

function words(now: Device): string {
  switch (now.state) {
    case "resting":
      return now.why
        ? `${now.why} It starts again with the next question.`
        : "The engine downloads when you leave the page alone for a moment.";
    case "loading":
      if (!is_fetching(now)) return "Starting and testing the engine.";
      return now.damaged
        ? `A part of the engine was damaged. It comes again: ${fetched_words(now)}.`
        : `Fetching the engine: ${fetched_words(now)}.`;
    case "ready":
      return now.kept
        ? `Ready on this device, version ${now.engine_version}.`
        : `Ready on this device, version ${now.engine_version}, but the phone has no room to keep it: ` +
            "it needs a signal each time. Free some space, then open the page again.";
    case "failed":
      return now.by_itself
        ? `${now.why} The next try comes by itself. The server calculates instead.`
        : `${now.why} The server calculates instead.`;
  }
}
