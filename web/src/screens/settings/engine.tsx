// Whether this device works colour out by itself, in words.
import { type Device, device, start } from "../../engine/device";

/** Returns where the engine on this device stands, and a way to try again where it failed. */
export function EngineHere() {
  const now = device.value;
  return (
    <div class="stack" id="engine">
      <h3>Working out on this device</h3>
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
      return "The engine is fetched when you have not touched the page for a moment.";
    case "loading":
      return now.share < 1
        ? `Fetching the engine: ${Math.round(now.share * 100)} %. The server works out meanwhile.`
        : "Starting and testing the engine. The server works out meanwhile.";
    case "ready":
      return `Ready on this device, version ${now.engine_version}.`;
    case "failed":
      return `${now.why} The server works out instead.`;
  }
}
