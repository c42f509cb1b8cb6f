// The way of a planned service to another day, or to be called off.
import { useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { date_words, day_of, instant_on, is_day, rfc3339 } from "../../device/when";
import { Choice } from "../../parts/choice";
import "../../parts/text/style.css";
import { time_of_day } from "../../parts/words";
import { NotKept } from "../../records/write";
import { move_service, type Service } from "../../salon/service/services";
import { NOT_DONE, put_not_done } from "../../salon/service/standing";

/** Returns the fields that move a service, and the reasons why it does not happen. */
export function Move({ service, at_ms }: { service: Service; at_ms: number }) {
  const was = { day: day_of(at_ms), time: rfc3339(at_ms).slice(11, 16) };
  const [typed, put, forget] = useTyped("move", service.id, was);
  const { day, time } = typed;
  const [fault, put_fault] = useState("");
  const [hour, past] = time.split(":").map(Number);
  const to_ms = instant_on(day, (hour ?? 0) * 60 + (past ?? 0));
  const ready = is_day(day) && time !== "" && to_ms !== at_ms;
  const move = async () => {
    const to = rfc3339(to_ms);
    try {
      await move_service(service.id, to, `Moved to ${date_words(to)}, ${time_of_day(to_ms)}.`);
      forget();
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      put_fault(why.message);
    }
  };
  return (
    <div class="stack">
      <label class="text-field">
        <span>Day</span>
        <input
          type="date"
          value={day}
          onInput={({ currentTarget }) => put({ ...typed, day: currentTarget.value })}
        />
      </label>
      <label class="text-field">
        <span>Time</span>
        <input
          type="time"
          value={time}
          onInput={({ currentTarget }) => put({ ...typed, time: currentTarget.value })}
        />
      </label>
      {fault && (
        <p role="alert">
          <strong>{fault}</strong>
        </p>
      )}
      <button type="button" disabled={!ready} onClick={() => void move()}>
        Move the visit
      </button>
      <Choice
        legend="Or it does not happen"
        options={NOT_DONE.map((why) => [why, why] as const)}
        value={service.not_done?.why}
        onChoose={(why) => void put_not_done(service.id, why)}
      />
    </div>
  );
}
