// One appointment of a file: when, who it is for, and the way to correct that before it is taken.
import { signal } from "@preact/signals";
import { day_in_words, day_of } from "../../device/when";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { called, type Proposed } from "../../salon/calendar/take";
import { today } from "./today";

/** Stands for a client who is in no record yet. */
const NEW = "";

/** Which appointments are taken, and whose they are where that was said, by their keys. */
export const ticked = signal<Readonly<Record<string, boolean>>>({});
export const whose = signal<Readonly<Record<string, string>>>({});

/** Whether nothing is left to take of an appointment. */
export function is_settled({ arrival }: Proposed): boolean {
  return arrival === "here" || arrival === "under way";
}

/** Whether somebody has to say who is meant: several fit, or the one that does only nearly. */
export function is_asked({ arrival, match, clients }: Proposed): boolean {
  if (arrival !== "new" && arrival !== "deleted") return false;
  return clients.length > 1 || match === "near";
}

interface FileRowProps {
  row: Proposed;
  /** Called with the row as somebody corrected it. */
  onRow: (row: Proposed) => void;
}

/** Returns the row. */
export function FileRow({ row, onRow }: FileRowProps) {
  const { key, name, at_ms, line, rest } = row;
  const settled = is_settled(row);
  return (
    <>
      <label class="from-file-row">
        <input
          type="checkbox"
          disabled={settled}
          checked={ticked.value[key] ?? false}
          onChange={(event) => {
            ticked.value = { ...ticked.value, [key]: event.currentTarget.checked };
          }}
        />
        <span>
          <strong>
            {day_in_words(day_of(at_ms), today.value)}, {time_of_day(at_ms)}
          </strong>{" "}
          {name} <span class="quiet">{`${arrival_words(row)} · line ${line}`}</span>
          {rest && <span class="from-file-note">Note: {rest}</span>}
        </span>
      </label>
      {is_asked(row) && <Who row={row} />}
      {!settled && row.arrival !== "moved" && <Correct row={row} onRow={onRow} />}
    </>
  );
}

function Who({ row }: { row: Proposed }) {
  const { key, called: name, match, clients } = row;
  const known = clients.map(({ id, name: known_name, phone }, at) => {
    const words = `${known_name ?? "no name"}${phone ? `, ${phone}` : ""}`;
    return [id, match === "near" ? `It is ${words}` : `${at + 1}: ${words}`] as const;
  });
  return (
    <Choice
      legend={`Who is “${name}”`}
      options={[...known, [NEW, "a new client"] as const]}
      value={whose.value[key]}
      onChoose={(client) => {
        whose.value = { ...whose.value, [key]: client };
      }}
    />
  );
}

function Correct({ row, onRow }: FileRowProps) {
  const { key, clients, match } = row;
  const only = match === "exact" && clients.length === 1 ? clients[0] : undefined;
  return (
    <details>
      <summary>Correct the name</summary>
      <div class="stack">
        <TextField
          label="Client’s name"
          value={row.called}
          fault={row.called.trim() ? undefined : "A client needs a name."}
          onType={(name) => {
            const { [key]: _, ...others } = whose.value;
            whose.value = others;
            onRow(called(row, name));
          }}
        />
        {only && (
          <Choice
            legend="Whose visit"
            options={[[only.id, `${only.name}`] as const, [NEW, "a new client"] as const]}
            value={whose.value[key] ?? only.id}
            onChoose={(client) => {
              whose.value = { ...whose.value, [key]: client };
            }}
          />
        )}
        <TextField label="Note" value={row.rest} onType={(rest) => onRow({ ...row, rest })} />
      </div>
    </details>
  );
}

function arrival_words(row: Proposed): string {
  const { key, arrival, clients, match, was_ms, called: name } = row;
  if (arrival === "here") return "here already";
  if (arrival === "moved") return `moved, was ${time_of_day(was_ms ?? 0)}`;
  if (arrival === "under way") return "begun, so its time stays";
  if (arrival === "deleted") return "deleted here before";
  const said = whose.value[key];
  if (said === NEW || clients.length === 0) return `new client ${name}`;
  if (match === "near") return "a name like one you know";
  return clients.length === 1 ? `client ${clients[0]?.name}` : `${clients.length} clients fit`;
}
