// The desk's floor, and under it who will be held tomorrow, while it can still be mended.
import { days_on } from "../device/when";
import { Beside, Floor } from "../screens/desk";
import { HeldAhead } from "../screens/today/ahead";
import { useToday } from "../screens/today/today";

/** Returns the floor, and tomorrow's holds. */
export function DeskFloor() {
  const tomorrow = days_on(useToday(), 1);
  return (
    <>
      <Floor />
      <div class="stack desk">
        <HeldAhead day={tomorrow} />
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
