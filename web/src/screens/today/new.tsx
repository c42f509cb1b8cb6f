// Plans a service with a name and a time; a known name brings its history.
import { useEffect, useRef, useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { rfc3339 } from "../../device/when";
import { Choice } from "../../parts/choice";
import { Stepper } from "../../parts/stepper";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { go } from "../../place";
import { all } from "../../records/read";
import { NotKept } from "../../records/write";
import { plan_for_new_client, plan_service } from "../../salon/service/services";

const QUARTER_MS = 15 * 60_000;
const MOST_FOUND = 6;

/** Returns the form; `onDone` is called once it is kept, or given up. */
export function NewService({ onDone }: { onDone: () => void }) {
  const now_ms = Math.floor(Date.now() / QUARTER_MS) * QUARTER_MS;
  const [typed, put, forget] = useTyped("new_service", "", { name: "", at_ms: 0 });
  const { name } = typed;
  const at_ms = typed.at_ms || now_ms;
  const put_name = (words: string) => put({ ...typed, name: words });
  const put_at = (chosen_ms: number) => put({ ...typed, at_ms: chosen_ms });
  const [fault, put_fault] = useState("");
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => form.current?.querySelector("input")?.focus(), []);
  const wanted = name.trim().toLocaleLowerCase();
  const found = wanted
    ? all("client").value.filter((client) => client.name?.toLocaleLowerCase().includes(wanted))
    : [];
  const exact = found.some((client) => client.name?.toLocaleLowerCase() === wanted);

  async function plan(make: () => Promise<string>): Promise<void> {
    try {
      const service = await make();
      forget();
      onDone();
      go("service", service);
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      put_fault(why.message);
    }
  }

  return (
    <div class="stack new-service">
      <div ref={form}>
        <TextField label="Client’s name" value={name} onType={put_name} />
      </div>
      <Stepper
        label="Time"
        words={time_of_day(at_ms)}
        less="a quarter of an hour earlier"
        more="a quarter of an hour later"
        onLess={() => put_at(at_ms - QUARTER_MS)}
        onMore={() => put_at(at_ms + QUARTER_MS)}
      />
      {found.length > 0 && (
        <Choice
          legend="Known clients"
          options={found
            .slice(0, MOST_FOUND)
            .map(({ id, name: known }) => [id, known ?? "no name"] as const)}
          value={undefined}
          onChoose={(client) => void plan(() => plan_service(client, rfc3339(at_ms)))}
        />
      )}
      {fault && (
        <p role="alert">
          <strong>{fault}</strong>
        </p>
      )}
      <div class="new-service-steps">
        <button
          type="button"
          disabled={!wanted}
          onClick={() => void plan(() => plan_for_new_client(name.trim(), rfc3339(at_ms)))}
        >
          {exact ? "Another client of this name" : "New client"}
        </button>
        <button
          type="button"
          onClick={() => {
            forget();
            onDone();
          }}
        >
          Not now
        </button>
      </div>
    </div>
  );
}
