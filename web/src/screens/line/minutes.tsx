// A leaflet's minutes: asked for as printed, then moved a minute at a time.
import { useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { Stepper } from "../../parts/stepper";
import type { Entity } from "../../records/shapes";

const LONGEST_MIN = 60;
/** Nobody has read it yet. */
const UNREAD = -1;
const minutes = (min: number) => [min, `${min} min`] as const;
const EARLIEST = [[0, "none given"] as const, ...[3, 5, 10, 15, 20].map(minutes)];
const AT_MOST = [10, 15, 20, 25, 30, 35, 40, 45].map(minutes);

type Window = NonNullable<Entity<"line">["window"]>;

interface MinutesProps {
  line: Entity<"line">;
  onWindow: (window: Window) => Promise<unknown>;
}

/** Returns both questions until both are answered, then both as steppers. */
export function Minutes({ line, onWindow }: MinutesProps) {
  return line.window ? (
    <Known window={line.window} onWindow={onWindow} />
  ) : (
    <Unread line={line} onWindow={onWindow} />
  );
}

function Unread({ line, onWindow }: MinutesProps) {
  const nothing = { min: UNREAD, max: UNREAD };
  const [read, put, forget] = useTyped("leaflet minutes", line.id, nothing);
  const both = read.min !== UNREAD && read.max !== UNREAD;
  const say = async (part: Partial<Window>) => {
    const now = { ...read, ...part };
    put(now);
    if (now.min === UNREAD || now.max === UNREAD || now.min > now.max) return;
    await onWindow(now);
    forget();
  };
  return (
    <>
      <Choice
        legend="Earliest, on lightened hair"
        options={EARLIEST}
        value={EARLIEST.find(([min]) => min === read.min)?.[0]}
        onChoose={(min) => void say({ min })}
      />
      <Choice
        legend="At most, by its leaflet"
        options={AT_MOST}
        value={AT_MOST.find(([max]) => max === read.max)?.[0]}
        onChoose={(max) => void say({ max })}
        note="The nearest below what is printed. Then move it by the minute."
      />
      {both && <p role="alert">The earliest minute is past the longest. Correct one of them.</p>}
    </>
  );
}

function Known({ window, onWindow }: { window: Window; onWindow: MinutesProps["onWindow"] }) {
  const { min, max } = window;
  const put = (part: Partial<Window>) => void onWindow({ ...window, ...part });
  return (
    <>
      <Stepper
        label="Earliest, on lightened hair"
        words={`${min} min`}
        less="a minute less"
        more="a minute more"
        onLess={min > 0 ? () => put({ min: min - 1 }) : undefined}
        onMore={min < max ? () => put({ min: min + 1 }) : undefined}
      />
      <Stepper
        label="At most, by its leaflet"
        words={`${max} min`}
        less="a minute less"
        more="a minute more"
        onLess={max > Math.max(1, min) ? () => put({ max: max - 1 }) : undefined}
        onMore={max < LONGEST_MIN ? () => put({ max: max + 1 }) : undefined}
      />
    </>
  );
}
