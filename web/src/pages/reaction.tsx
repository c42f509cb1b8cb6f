// "It tingles or burns": first the rinse, then the record. Nothing is in front of either.
import { address_of } from "../place";
import { one } from "../records/read";
import { all_rinsed } from "../salon/reactions";
import { running } from "../salon/service/running";
import { RinseTimer } from "../screens/help/timer";
import { Reaction } from "../screens/reaction";

/** Returns the page of a service's reaction, or of a client's if no service runs. */
export function ReactionPage({ id }: { id: string }) {
  const service = one("service", id).value;
  const client = one("client", service?.client ?? id).value;
  const runs = running.value.some((clock) => clock.service === id);
  return (
    <section class="stack reaction" aria-labelledby="reaction-heading">
      <h2 id="reaction-heading">It tingles or burns{client?.name ? `: ${client.name}` : ""}</h2>
      <div class="reaction-now">
        <p>Rinse now. Take all of it off.</p>
        <RinseTimer what="skin" />
        <p>Use cool running water, and keep it out of the eyes. Do not start again today.</p>
        {runs && (
          <button type="button" onClick={() => void all_rinsed(id)}>
            Rinsed: stop the clock
          </button>
        )}
      </div>
      <Reaction about={id} />
      {service && (
        <a class="button" href={address_of("service", id)}>
          Back to the service
        </a>
      )}
    </section>
  );
}
