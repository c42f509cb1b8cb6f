// Says on the day that a shared file still waits, and opens the import for one with appointments.
import { useEffect } from "preact/hooks";
import { waiting_file, waiting_files } from "../../device/shared";
import { counted } from "../../parts/counted";
import { address_of } from "../../place";

/** Returns the way to the shared files; nothing while none waits. */
export function SharedLine({ onDay }: { onDay: () => void }) {
  const day = waiting_file("day")?.form;
  useEffect(() => {
    if (day) onDay();
  }, [day]);
  const { length } = waiting_files.value;
  if (length === 0) return null;
  return (
    <a class="button" href={address_of("shared")}>
      {`${counted(length, "shared file")} to place`}
    </a>
  );
}
