// Gives a phone another name: on its record, so every screen and the desk's own list say it.
import type { KnownDevice } from "../../courier/devices";
import { useTypedOver } from "../../device/typed";
import { TextField } from "../../parts/text";
import { state_of } from "../../records/read";
import { together } from "../../records/write";

const MOST_LENGTH = 60;

interface RenamePhoneProps {
  devices: readonly KnownDevice[];
  /** A device in words that tell it from one of the same name. */
  named: (device: KnownDevice) => string;
  onRenamed: (device_id: string, name: string) => void;
}

/** Returns a field for each phone's name; an empty one changes nothing. */
export function RenamePhone({ devices, named, onRenamed }: RenamePhoneProps) {
  return (
    <div class="stack">
      {devices.map((device) => (
        <OneName key={device.device_id} device={device} label={named(device)} said={onRenamed} />
      ))}
    </div>
  );
}

interface OneNameProps {
  device: KnownDevice;
  label: string;
  said: RenamePhoneProps["onRenamed"];
}

function OneName({ device: { device_id: id, name: known }, label, said }: OneNameProps) {
  const field = useTypedOver("phone name", id, known, async (typed) => {
    const name = typed.trim();
    if (!name) return;
    const named = { kind: "device" as const, id, fields: { name } };
    const made = state_of(id) !== undefined;
    await together(
      [made ? { do: "change", ...named } : { do: "create", ...named }],
      "Renamed a phone.",
    );
    said(id, name);
  });
  return <TextField label={`Name of ${label}`} mostLength={MOST_LENGTH} {...field} />;
}
