// The order of work on a head of several zones: what is due now, and what would help in a clash.
import { computed } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { MINUTE_MS } from "../../device/when";
import { waiting_words } from "../../engine/where";
import { Choice } from "../../parts/choice";
import { Stopped, Working } from "../../parts/notice";
import { Order } from "../../parts/order";
import { Stepper } from "../../parts/stepper";
import { minutes_words, time_of_day } from "../../parts/words";
import {
  apply_min_of,
  begun_ms,
  minute_of_work,
  put_apply_min,
  schedule,
  shown_order,
  take_mend,
  watch_schedule,
  work,
  zones_in_order,
} from "./actions";

/** Returns the order of work of a service; nothing while fewer than two zones have a mix. */
export function OrderOfWork({ service_id }: { service_id: string }) {
  useEffect(() => watch_schedule(service_id), [service_id]);
  const zones = zones_in_order(service_id);
  const began_ms = begun_ms(zones);
  // A whole minute, so that nothing is painted while only seconds pass.
  const minute = useMemo(() => computed(() => minute_of_work(service_id)), [service_id]);
  const asked = schedule.asked.value;
  const order = shown_order.value;
  if (zones.length < 2) return null;
  return (
    <>
      {asked.state === "working" && !order && (
        <Working what="Putting the zones in order…" waiting={waiting_words.value} />
      )}
      {asked.state === "failed" && (
        <Stopped sentence={asked.sentence} onAgain={() => schedule.again()} />
      )}
      {order && (
        <Order
          reply={order}
          now_min={minute.value}
          wall={began_ms === undefined ? undefined : (at) => time_of_day(began_ms + at * MINUTE_MS)}
          onMend={(mend) => take_mend(service_id, mend)}
        />
      )}
      <details>
        <summary>Hands, rinses and minutes</summary>
        <div class="stack">
          <Choice
            legend="Pairs of hands"
            options={[
              [1, "one"],
              [2, "two"],
            ]}
            value={work.value.hands}
            onChoose={(hands) => {
              work.value = { ...work.value, hands };
            }}
          />
          <Choice
            legend="Rinses"
            options={[
              ["separate", "one by one"],
              ["shared", "all in one"],
            ]}
            value={work.value.rinse}
            onChoose={(rinse) => {
              work.value = { ...work.value, rinse };
            }}
          />
          <Minutes
            label="A rinse takes"
            minutes={work.value.basin_minutes}
            onMinutes={(basin_minutes) => {
              work.value = { ...work.value, basin_minutes };
            }}
          />
          {zones.map(({ id, name }) => (
            <Minutes
              key={id}
              label={`Putting ${name} on takes`}
              minutes={apply_min_of(id)}
              onMinutes={(minutes) => put_apply_min(id, minutes)}
            />
          ))}
        </div>
      </details>
    </>
  );
}

interface MinutesProps {
  label: string;
  minutes: number;
  onMinutes: (minutes: number) => void;
}

function Minutes({ label, minutes, onMinutes }: MinutesProps) {
  return (
    <Stepper
      label={label}
      words={minutes_words(minutes)}
      less="a minute less"
      more="a minute more"
      onLess={minutes > 1 ? () => onMinutes(minutes - 1) : undefined}
      onMore={minutes < 60 ? () => onMinutes(minutes + 1) : undefined}
    />
  );
}
