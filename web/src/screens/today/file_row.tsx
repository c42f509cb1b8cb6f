// One appointment of a file: when, who it is for, and the way to correct that before it is taken.
import { day_in_words, day_of } from "../../device/when";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { called, is_wish, type Proposed } from "../../salon/calendar/take";
import { put_row, said, say } from "./file_read";
import { today } from "./today";

/** Stands for a client who is in no record yet. */
const NEW = "";

/** Whether nothing is left to take of an appointment. */
export function is_settled({ arrival }: Proposed): boolean {
  return arrival === "here" || arrival === "under way";
}

/** Whether somebody has to say who is meant: several fit, or the one that does only nearly. */
export function is_asked({ arrival, match, clients }: Proposed): boolean {
  if (arrival !== "new" && arrival !== "deleted") return false;
  return clients.length > 1 || match === "near";
}

/** Returns the row. */
export function FileRow({ row }: { row: Proposed }) {
  const { key, name, at_ms, line, wish, rest } = row;
  const settled = is_settled(row);
  return (
    <>
      <label class="from-file-row">
        <input
          type="checkbox"
          disabled={settled}
          checked={said.value.ticked[key] ?? false}
          onChange={(event) => {
            say({ ticked: { ...said.value.ticked, [key]: event.currentTarget.checked } });
          }}
        />
        <span>
          <strong>
            {day_in_words(day_of(at_ms), today.value)}, {time_of_day(at_ms)}
          </strong>{" "}
          {name} <span class="quiet">{`${arrival_words(row)} · line ${line}`}</span>
          {wish && <span class="from-file-note">Wish: {wish}</span>}
          {rest && <span class="from-file-note">Note: {rest}</span>}
        </span>
      </label>
      {is_asked(row) && <Who row={row} />}
      {!settled && row.arrival !== "moved" && <Correct row={row} />}
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
      value={said.value.whose[key]}
      onChoose={(client) => {
        say({ whose: { ...said.value.whose, [key]: client } });
      }}
    />
  );
}

function Correct({ row }: { row: Proposed }) {
  const { key, clients, match } = row;
  const only = match === "exact" && clients.length === 1 ? clients[0] : undefined;
  return (
    <details>
      <summary>Correct it</summary>
      <div class="stack">
        <TextField
          label="Client’s name"
          value={row.called}
          fault={row.called.trim() ? undefined : "A client needs a name."}
          onType={(name) => {
            const { [key]: _, ...others } = said.value.whose;
            say({ whose: others });
            put_row(called(row, name));
          }}
        />
        {only && (
          <Choice
            legend="Whose visit"
            options={[[only.id, `${only.name}`] as const, [NEW, "a new client"] as const]}
            value={said.value.whose[key] ?? only.id}
            onChoose={(client) => {
              say({ whose: { ...said.value.whose, [key]: client } });
            }}
          />
        )}
        <TextField
          label="Wish"
          value={row.wish}
          fault={is_wish(row.wish) ? undefined : "Name a level and a tone: level 9 pearl."}
          onType={(wish) => put_row({ ...row, wish })}
        />
        <TextField label="Note" value={row.rest} onType={(rest) => put_row({ ...row, rest })} />
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
  const meant = said.value.whose[key];
  if (meant === NEW || clients.length === 0) return `new client ${name}`;
  if (match === "near") return "a name like one you know";
  return clients.length === 1 ? `client ${clients[0]?.name}` : `${clients.length} clients fit`;
}
