// The desk's floor, and under it who will be held tomorrow, while it can still be mended.
import { days_on } from "../device/when";
import { Beside, Floor } from "../screens/desk";
import { HeldAhead } from "../screens/today/ahead";
import { useToday } from "../screens/today/today";

/** Returns the floor, and tomorrow's holds. */
export function DeskFloor() {
  const today = useToday();
  return (
    <>
      <Floor day={today} />
      <div class="stack desk">
        <HeldAhead day={days_on(today, 1)} />
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
