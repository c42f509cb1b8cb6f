// The salon's phones: when each was last heard, and what waits on it; and pairing another.
import { type Signal, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import {
  type CodeOffered,
  devices_of_salon,
  is_at_the_desk,
  type KnownDevice,
} from "../../courier/devices";
import { date_words } from "../../device/when";
import { later } from "../../parts/later";
import { time_of_day } from "../../parts/words";

const PhoneFile = later<object>(() => import("./phone_file").then((part) => part.PhoneFile), {
  after: true,
});

const RemovePhone = later<{
  devices: readonly KnownDevice[];
  named: (device: KnownDevice) => string;
  onRemoved: () => void;
}>(() => import("./remove_phone").then((part) => part.RemovePhone), { after: true });

const RenamePhone = later<{
  devices: readonly KnownDevice[];
  named: (device: KnownDevice) => string;
  onRenamed: (device_id: string, name: string) => void;
}>(() => import("./rename_phone").then((part) => part.RenamePhone), { after: true });

const LetIn = later<{ offered: Signal<CodeOffered | string> }>(
  () => import("./let_in").then((part) => part.LetIn),
  { after: true },
);

const ASK_AGAIN_MS = 20_000;

const devices = signal<readonly KnownDevice[]>([]);
/** The shown code, or why there is none; empty if nobody asked for one. */
const offered = signal<CodeOffered | string>("");

async function ask(): Promise<void> {
  const known = await devices_of_salon();
  if (known.length > 0) devices.value = known;
}

/** Returns the list; nothing until the server was in reach. */
export function Phones() {
  useEffect(() => {
    const look = () => {
      const now = offered.peek();
      if (typeof now === "object" && Date.parse(now.until) < Date.now()) offered.value = "";
      void ask();
    };
    look();
    const again = setInterval(look, ASK_AGAIN_MS);
    return () => {
      clearInterval(again);
      offered.value = "";
    };
  }, []);
  if (devices.value.length === 0) return null;
  return (
    <section class="stack" aria-labelledby="phones-heading">
      <h2 id="phones-heading">Phones</h2>
      <table class="desk-table">
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col">Last heard</th>
            <th scope="col">Waited then</th>
          </tr>
        </thead>
        <tbody>
          {devices.value.map((device) => (
            <tr key={device.device_id}>
              <td>
                {device.name}
                {rights_words(device) && <small class="rights">{rights_words(device)}</small>}
              </td>
              <td>{device.last_seen_at ? moment_words(device.last_seen_at) : "not yet"}</td>
              <td>{device.queued || "nothing"}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {is_at_the_desk && <LetIn offered={offered} />}
      <details>
        <summary>Rename a phone</summary>
        <RenamePhone
          devices={devices.value.filter(still_here)}
          named={named}
          onRenamed={(id, name) => {
            // The list has it once the desk took the entry; until then this page says it.
            devices.value = devices.value.map((each) =>
              each.device_id === id ? { ...each, name } : each,
            );
          }}
        />
      </details>
      {is_at_the_desk && (
        <details>
          <summary>Remove a phone</summary>
          <RemovePhone
            devices={devices.value.filter(still_here)}
            named={named}
            onRemoved={() => void ask()}
          />
        </details>
      )}
      <details>
        <summary>Import a phone’s file</summary>
        <PhoneFile />
      </details>
    </section>
  );
}

const still_here = ({ revoked_at }: KnownDevice) => !revoked_at;

/** Returns its name, with when it was last heard where another has the same name. */
function named(device: KnownDevice): string {
  const alike = devices.value.filter((other) => still_here(other) && other.name === device.name);
  if (alike.length < 2) return device.name;
  const { name, last_seen_at, paired_at } = device;
  if (last_seen_at) return `${name}, last heard ${moment_words(last_seen_at)}`;
  return `${name}, paired ${moment_words(paired_at)}`;
}

/** Returns what a device may not do for good, such as "only reads, until Feb 23", or "removed". */
function rights_words({ revoked_at, reads_only, until }: KnownDevice): string {
  if (revoked_at) return "removed";
  const ends = until ? `until ${date_words(until)}` : "";
  return [reads_only ? "only reads" : "", ends].filter(Boolean).join(", ");
}

/** Returns "14:02" for today, else with its day. */
function moment_words(iso: string): string {
  const at = new Date(iso);
  const time = time_of_day(at.getTime());
  return at.toDateString() === new Date().toDateString() ? time : `${date_words(iso)}, ${time}`;
}
