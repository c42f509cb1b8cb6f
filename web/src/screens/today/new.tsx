// Plans a service on the day that is shown, with a name and a time; a known name brings its history.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { instant_on, minute_on_wall, rfc3339 } from "../../device/when";
import { Choice } from "../../parts/choice";
import { Stepper } from "../../parts/stepper";
import { MainStep } from "../../parts/steps";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { go } from "../../place";
import { NotKept } from "../../records/write";
import { clients_named, found_by_name } from "../../salon/clients";
import { plan_for_new_client, plan_service } from "../../salon/service/services";
import { team } from "../../salon/who";
import { today } from "./today";

const QUARTER_MIN = 15;
const DAY_MIN = 24 * 60;
/** Where a day begins whose visits are planned ahead. */
const FIRST_MIN = 9 * 60;
const MOST_FOUND = 6;
/** No minute was chosen: the present quarter of an hour counts, or the morning of another day. */
const UNCHOSEN = -1;
const NOTHING = { name: "", minute: UNCHOSEN, person: "" };
const MYSELF = "";

const fault = signal("");

interface OnDay {
  day: string;
  /** Called once it is kept, or given up. */
  onDone: () => void;
}

/** What is typed, and what it comes to on a day. */
function usePlan({ day, onDone }: OnDay) {
  const [typed, put, forget] = useTyped("new_service", "", NOTHING);
  const now_min = Math.floor(minute_on_wall(Date.now()) / QUARTER_MIN) * QUARTER_MIN;
  const minute = typed.minute >= 0 ? typed.minute : day === today.value ? now_min : FIRST_MIN;
  const at_ms = instant_on(day, minute);
  async function plan(make: (planned_at: string, person?: string) => Promise<string>) {
    try {
      const service = await make(rfc3339(at_ms), typed.person || undefined);
      fault.value = "";
      forget();
      onDone();
      go("service", service);
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      fault.value = why.message;
    }
  }
  const give_up = () => {
    fault.value = "";
    forget();
    onDone();
  };
  return { typed, put, minute, at_ms, plan, give_up };
}

/** Returns the form. */
export function NewService(on: OnDay) {
  const { typed, put, minute, at_ms, plan, give_up } = usePlan(on);
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => form.current?.querySelector("input")?.focus(), []);
  const found = found_by_name(typed.name);
  const put_minute = (chosen: number) => put({ ...typed, minute: (chosen + DAY_MIN) % DAY_MIN });
  return (
    <div class="stack new-service">
      <div ref={form}>
        <TextField
          label="Client’s name"
          value={typed.name}
          onType={(name) => put({ ...typed, name })}
        />
      </div>
      {found.length > 0 && (
        <Choice
          legend="Known clients"
          options={found
            .slice(0, MOST_FOUND)
            .map(({ id, name }) => [id, name ?? "no name"] as const)}
          value={undefined}
          onChoose={(client) => void plan((at, person) => plan_service(client, at, person))}
        />
      )}
      <Stepper
        label="Time"
        words={time_of_day(at_ms)}
        less="a quarter of an hour earlier"
        more="a quarter of an hour later"
        onLess={() => put_minute(minute - QUARTER_MIN)}
        onMore={() => put_minute(minute + QUARTER_MIN)}
      />
      <label class="text-field">
        <span>Or type the time</span>
        <input
          type="time"
          value={rfc3339(at_ms).slice(11, 16)}
          onInput={({ currentTarget: { value } }) => {
            const [hour, past] = value.split(":").map(Number);
            if (hour !== undefined && past !== undefined) put_minute(hour * 60 + past);
          }}
        />
      </label>
      {team.value.length > 1 && (
        <Choice
          legend="Who does it"
          options={[
            [MYSELF, "not said"] as const,
            ...team.value.map(({ id, name }) => [id, name] as const),
          ]}
          value={typed.person}
          onChoose={(person) => put({ ...typed, person })}
        />
      )}
      {fault.value && (
        <p role="alert">
          <strong>{fault.value}</strong>
        </p>
      )}
      <button type="button" onClick={give_up}>
        Not now
      </button>
    </div>
  );
}

/** Returns the step that keeps it, for a client nobody has met; a known one is tapped above. */
export function NewServiceStep(on: OnDay) {
  const { typed, plan } = usePlan(on);
  const name = typed.name.trim();
  const known = clients_named(name).length > 0;
  return (
    <MainStep
      words={known ? "Another client of this name" : "New client"}
      onTap={
        name ? () => void plan((at, person) => plan_for_new_client(name, at, person)) : undefined
      }
    />
  );
}
