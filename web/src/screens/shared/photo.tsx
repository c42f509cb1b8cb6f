// A shared photo and the one question it has: to whose note it goes.
import { useEffect, useState } from "preact/hooks";
import "../../parts/photo/style.css";
import { put_away, unpacked, type WaitingFile } from "../../device/shared";
import { useTyped } from "../../device/typed";
import { at_now, day_of } from "../../device/when";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { go } from "../../place";
import { one } from "../../records/read";
import { create } from "../../records/write";
import { clients_found } from "../../salon/clients";
import { keep_photo } from "../../salon/photos";
import { services_on } from "../../salon/service/day";
import { author_first } from "../../salon/who";

const MOST_FOUND = 6;

interface Whose {
  client: string;
  name: string;
  /** Today's visit, which the note is about; absent for a client who has none. */
  service?: string;
  when: string;
}

/** Returns the photo, words for it, and whom it may be of: today's clients, or one by name. */
export function SharedPhoto({ file }: { file: WaitingFile }) {
  // About the form, which ends with it: an erasure of anybody empties both.
  const [text, put_text, forget_text] = useTyped(`words of ${file.form}`, "anybody", "");
  const [name, put_name] = useState("");
  const [fault, put_fault] = useState("");
  const keep = async ({ client, service }: Whose) => {
    try {
      const photo = await keep_photo(unpacked(file));
      await author_first();
      const about = service ? { service } : { client };
      await create("note", { ...about, text: text.trim(), photo, at: at_now() });
      forget_text();
      put_away(file);
      go("client", client);
    } catch (why) {
      put_fault(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <>
      <Preview file={file} />
      <TextField label="Note with it" value={text} mostLength={2000} onType={put_text} />
      <h4>Whose photo is it?</h4>
      <TextField label="Find a client by name" value={name} onType={put_name} />
      <ul class="rows">
        {whose(name).map((one) => (
          <li key={one.service ?? one.client}>
            <button type="button" class="shared-whose" onClick={() => void keep(one)}>
              <strong>{one.name}</strong>
              <span class="quiet">{one.when}</span>
            </button>
          </li>
        ))}
      </ul>
      {fault && <p role="alert">{fault}</p>}
    </>
  );
}

/** Today's clients by their times, and once a name is typed all clients of that name. */
function whose(name: string): Whose[] {
  const today = services_on(day_of(Date.now())).flatMap(({ id, client, planned_at }) => {
    const found = client ? one("client", client).value : undefined;
    if (!client || !found) return [];
    const when = planned_at ? `today, ${time_of_day(Date.parse(planned_at))}` : "today";
    return [{ client, service: id, name: found.name ?? "no name", when }];
  });
  if (!name.trim()) return today;
  return clients_found(name)
    .slice(0, MOST_FOUND)
    .map(({ id, name }) => {
      const visit = today.find(({ client }) => client === id);
      return visit ?? { client: id, name: name ?? "no name", when: "no visit today" };
    });
}

function Preview({ file }: { file: WaitingFile }) {
  const [url, show] = useState("");
  useEffect(() => {
    const made = URL.createObjectURL(unpacked(file));
    show(made);
    return () => URL.revokeObjectURL(made);
  }, [file.form]);
  return <div class="photo">{url && <img src={url} alt="the shared one" />}</div>;
}
