// Takes a lost or a broken phone off the salon's list, at the desk's own computer.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { KnownDevice } from "../../courier/devices";
import { own_device_id, remove_device } from "../../courier/let_in_out";
import { counted } from "../../parts/counted";
import { HoldButton } from "../../parts/hold";

interface RemovePhoneProps {
  devices: readonly KnownDevice[];
  /** A device in words that tell it from one of the same name. */
  named: (device: KnownDevice) => string;
  onRemoved: () => void;
}

/** What came of the last try; empty before. */
const told = signal("");

/** Returns a button for each phone but this browser. */
export function RemovePhone({ devices, named, onRemoved }: RemovePhoneProps) {
  const [own, put_own] = useState("");
  useEffect(() => {
    void own_device_id().then(put_own);
    return () => {
      told.value = "";
    };
  }, []);
  const remove = async (device: KnownDevice) => {
    const answer = await remove_device(device.device_id);
    told.value = typeof answer === "string" ? answer : removed_words(device);
    onRemoved();
  };
  const others = devices.filter(({ device_id }) => own && device_id !== own);
  return (
    <div class="stack">
      <p>
        A removed phone sends and gets nothing more. It keeps what it had read until somebody
        empties it.
      </p>
      {own && others.length === 0 && <p>No other phone is paired.</p>}
      {others.map((device) => (
        <HoldButton
          key={device.device_id}
          words={`Hold to remove ${named(device)}`}
          again={`Press again to remove ${named(device)}`}
          onHeld={() => void remove(device)}
        />
      ))}
      <p role="status">{told.value}</p>
    </div>
  );
}

function removed_words({ name, queued }: KnownDevice): string {
  if (!queued) return `${name} is removed.`;
  const entries = counted(queued, "entry", "entries");
  return `${name} is removed. It has ${entries} to send, once it is paired again.`;
}
