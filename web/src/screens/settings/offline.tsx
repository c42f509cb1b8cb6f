// What this device can do without a network, how to install the page, and its storage.
import { useEffect, useState } from "preact/hooks";
import { storage_works } from "../../device/kept";
import { type Device, device } from "../../engine/device";
import { type Shell, shell } from "../../offline/bridge";
import { can_ask, install, installed } from "../../offline/install";
import { reasons_of, steps_of, system_of } from "../../offline/install_words";
import {
  ask_to_persist,
  measure,
  type Storage,
  storage,
  window_forgets,
} from "../../offline/storage";

/** Returns the settings' part about being offline. */
export function Offline() {
  return (
    <>
      <WithoutNetwork />
      <AsAnApp />
      <KeptHere />
    </>
  );
}

function WithoutNetwork() {
  return (
    <div class="stack" id="offline">
      <h3>Without a network</h3>
      <p role="status">{offline_words(shell.value, device.value)}</p>
    </div>
  );
}

/** "Ready offline" shows only for an engine that has passed its self-test on this device. */
function offline_words(page: Shell, engine: Device): string {
  if (page.state === "not kept") return page.why;
  if (page.state === "keeping") return "Saving this page on this device.";
  if (engine.state === "failed") {
    return "This page opens offline but cannot calculate.";
  }
  if (engine.state !== "ready") {
    return "This page opens offline. The engine is not tested yet.";
  }
  return engine.kept
    ? "Ready offline: the page and its tested engine are on this device."
    : "This page opens offline. Free some space to keep the engine too.";
}

function AsAnApp() {
  const system = system_of(navigator.userAgent, navigator.maxTouchPoints);
  return (
    <div class="stack" id="install">
      <h3>As an app on this device</h3>
      {installed.value ? (
        <p>Basinside is installed here.</p>
      ) : (
        <>
          {reasons_of(system).map((reason) => (
            <p key={reason}>{reason}</p>
          ))}
          {can_ask.value ? (
            <button type="button" onClick={() => void install()}>
              Install Basinside
            </button>
          ) : (
            <ol class="numbered">
              {steps_of(system).map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
          )}
        </>
      )}
    </div>
  );
}

function KeptHere() {
  const [asked, setAsked] = useState(false);
  useEffect(() => void measure(), []);
  const now = storage.value;
  const forgets = window_forgets.value || !storage_works.value;
  return (
    <div class="stack" id="kept">
      <h3>Storage on this device</h3>
      <p role="status">{forgets ? FORGETS : kept_words(now, asked)}</p>
      {now && <p class="quiet">{usage_words(now)}</p>}
      {!forgets && now && !now.persisted && (
        <>
          <button type="button" onClick={() => void ask_to_persist().then(() => setAsked(true))}>
            Ask the browser to keep it
          </button>
          {!installed.value && (
            <p class="quiet">
              A private window forgets everything when you close it. A page cannot always tell.
            </p>
          )}
        </>
      )}
    </div>
  );
}

const FORGETS =
  "This window forgets, like a private one. Use an ordinary window or the installed app.";

function kept_words(now: Storage | undefined, asked: boolean): string {
  if (!now) return "The browser does not say how long it keeps this.";
  if (now.persisted) {
    return "The browser keeps this until you clear it.";
  }
  return asked
    ? "The browser made no promise. Many do only for installed apps."
    : "The browser may clear this when space runs short.";
}

function usage_words({ used_bytes, quota_bytes }: Storage): string {
  return `${megabytes(used_bytes)} used of ${megabytes(quota_bytes)} this browser allows.`;
}

function megabytes(bytes: number): string {
  const mb = bytes / 1e6;
  return mb < 10_000
    ? `${mb.toFixed(mb < 10 ? 1 : 0)}\u00a0MB`
    : `${(mb / 1000).toFixed(0)}\u00a0GB`;
}
