// The desk's floor, and under it who will be held tomorrow, while it can still be mended.
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

/** Returns the floor, and tomorrow's holds. */
export function DeskFloor() {
  const today = useToday();
  return (
    <>
      <Floor day={today} />
      <div class="stack desk">
        <HeldAhead day={days_on(today, 1)} />
        <Backup />
      </div>
    </>
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
