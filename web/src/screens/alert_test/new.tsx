// A test put on now, or taken over from paper. A few taps; nothing to type but a name or a day.

import { weight } from "../../device/settings";
import { useTyped } from "../../device/typed";
import { at_now } from "../../device/when";
import { Absent } from "../../parts/absent";
import { Choice } from "../../parts/choice";
import { NO_PAPER, PaperTestForm } from "../../parts/paper";
import { MainStep } from "../../parts/steps";
import { address_of, go_instead } from "../../place";
import { one, records_ready } from "../../records/read";
import {
  hours_of,
  line_named,
  lines_to_test,
  moment_words,
  put_on,
  RESULTS,
  reader_names,
} from "../../salon/alert_tests/alert_tests";
import { dab_of } from "../../salon/alert_tests/dab";
import { keep_paper_test, look_at } from "../../salon/alert_tests/from_paper";
import { services_of } from "../../salon/clients";
import { zones_of } from "../../salon/service/services";
import { product_of, shelf } from "../../shelf/shelf";
import "./style.css";

const SITES = ["behind the ear", "inner elbow"] as const;
const DAB_G = 4;
const HOUR_MS = 3_600_000;

/** What is chosen for a client's test; the line in the bowl, and the leaflet's place, come first. */
function useChosen(client: string) {
  const nothing = { line: "", paper: false, site: "" };
  const [chosen, put, forget] = useTyped("new_test", client, nothing);
  const line = chosen.line || line_in_bowl(client);
  const site = chosen.site || line_named(line)?.leaflet?.site || "";
  return { chosen, put, forget, paper: chosen.paper, line, site };
}

/** Returns the page that begins a test of a client. */
export function NewTest({ id }: { id: string }) {
  const client = one("client", id).value;
  const { chosen, put, forget, paper, line, site } = useChosen(id);
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!client) return <Absent what="client" href={address_of("clients")} way="Go to the clients" />;
  const lines = lines_to_test.value;
  return (
    <section class="stack alert-test" aria-labelledby="test-heading">
      <h2 id="test-heading">Alert test for {client.name || "this client"}</h2>
      {lines.length === 0 && (
        <p>
          No line yet. <a href={address_of("shelf")}>Add one on the shelf</a> first.
        </p>
      )}
      <Choice
        legend="Which line"
        options={lines.map((name) => [name, name] as const)}
        value={line || undefined}
        onChoose={(name) => put({ ...chosen, line: name })}
        note="Test one line at a time, or you cannot tell them apart."
      />
      <Choice
        legend="When"
        options={[
          [false, "put on now"],
          [true, "done on paper"],
        ]}
        value={paper}
        onChoose={(one) => put({ ...chosen, paper: one })}
      />
      {line &&
        (paper ? (
          <Paper client={id} line={line} onKept={forget} />
        ) : (
          <Now line={line} site={site} onSite={(site) => put({ ...chosen, site })} />
        ))}
    </section>
  );
}

/** Returns the one line in the mixes of a client's visits that have not begun; empty for others. */
function line_in_bowl(client: string): string {
  const planned = services_of(client).filter(({ state }) => state === "planned");
  const parts = planned.flatMap(({ id }) => zones_of(id)).flatMap(({ mix }) => mix?.parts ?? []);
  const lines = new Set(parts.map(({ product }) => product_of(product)?.line ?? ""));
  const [only = ""] = lines;
  return lines.size === 1 && lines_to_test.value.includes(only) ? only : "";
}

/** Returns the step that keeps a test put on now; one from paper is kept under its form. */
export function NewTestStep({ id }: { id: string }) {
  const { forget, paper, line, site } = useChosen(id);
  if (paper || !one("client", id).value || lines_to_test.value.length === 0) return null;
  const keep = async () => {
    const test = await put_on(id, line, site);
    forget();
    go_instead("test", test);
  };
  if (!line) return <MainStep words="Choose the line first" onTap={undefined} />;
  return (
    <MainStep
      words={site ? "It is on" : "Say where it goes"}
      onTap={site ? () => void keep() : undefined}
    />
  );
}

interface NowProps {
  line: string;
  /** Where it goes: as somebody chose it, or the leaflet's place; empty for none. */
  site: string;
  onSite: (site: string) => void;
}

function Now({ line, site, onSite }: NowProps) {
  const leaflet = line_named(line)?.leaflet;
  const usual = leaflet?.site;
  const sites = usual ? [usual, ...SITES.filter((site) => site !== usual)] : SITES;
  const hours = hours_of(line);
  const ratio =
    line_named(line)?.mix_ratio ?? shelf.value.products.find((one) => one.line === line)?.mix_ratio;
  const dab = dab_of(ratio ?? 1, DAB_G);
  return (
    <>
      <Choice
        legend="Where on the skin"
        options={sites.map((name) => [name, name] as const)}
        value={site || undefined}
        onChoose={onSite}
        note={
          usual ? "The leaflet’s place comes first." : "The leaflet says where. Follow it first."
        }
      />
      <div>
        <h3>The dab</h3>
        <p>
          {ratio === 0
            ? `${weight(2)} of colour, no developer.`
            : `${weight(dab.colour_g)} colour, ${weight(dab.developer_g)} developer.`}
        </p>
        <p class="quiet">
          {leaflet?.method
            ? `The leaflet: ${leaflet.method}.`
            : "Follow the leaflet: developer or none, how much, open or covered."}{" "}
          Never leave lightener on the skin. Throw the rest of the mix away.
        </p>
      </div>
      <ul class="plain-list">
        <li>Use sound skin only: no rash, scratch or sunburn.</li>
        <li>
          You can read it from <strong>{moment_words(Date.now() + hours * HOUR_MS)}</strong>:{" "}
          {hours}
          &nbsp;hours.
        </li>
        <li>If it burns, itches or swells before, wash it off and do not colour. See Help.</li>
      </ul>
    </>
  );
}

interface PaperProps {
  client: string;
  line: string;
  onKept: () => void;
}

function Paper({ client, line, onKept }: PaperProps) {
  const [entered, put, forget] = useTyped("paper_test", client, NO_PAPER);
  return (
    <PaperTestForm
      results={RESULTS}
      entered={entered}
      onEnter={put}
      names={reader_names.value}
      today={at_now().slice(0, 10)}
      look_at={(moments) => look_at(moments, Date.now())}
      onKeep={async (said) => {
        const test = await keep_paper_test(client, { line, ...said });
        forget();
        onKept();
        go_instead("test", test);
      }}
    />
  );
}
