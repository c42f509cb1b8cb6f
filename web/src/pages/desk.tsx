// The desk's floor, and under it who will be held tomorrow, while it can still be mended. While no
// server answers, a line over it says so.
import { cut_off_words, sending } from "../courier/state";
import { days_on } from "../device/when";
import { later } from "../parts/later";
import { Beside, Floor } from "../screens/desk";
import { useToday } from "../screens/today/today";

const HeldAhead = later<{ day: string }>(
  () => import("../screens/today/ahead").then((part) => part.HeldAhead),
  { after: true },
);
const Backup = later<object>(() => import("../screens/desk/backup").then((part) => part.Backup), {
  after: true,
});

/** Returns the floor, tomorrow's holds, and when the records were last backed up. */
export function DeskFloor() {
  const today = useToday();
  return (
    <>
      <CutOff />
      <Floor day={today} />
      <div class="stack desk">
        <HeldAhead day={days_on(today, 1)} />
        <Backup />
      </div>
    </>
  );
}

/** A screen that others look at must not go on looking alive while nothing reaches it. */
function CutOff() {
  const words = cut_off_words(sending.value);
  if (!words) return null;
  return (
    <p class="desk-cut-off" role="alert">
      <strong>{words}</strong> What you see may be old. Phones keep what they write and send it
      later.
    </p>
  );
}

/** Returns all of the desk where there is no room side by side. */
export function DeskNarrow() {
  return (
    <>
      <DeskFloor />
      <Beside />
    </>
  );
}
