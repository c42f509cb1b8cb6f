// What can be done with a service that is held: its alert test now, or another day.

import type { SafetyReviewReply } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { rfc3339 } from "../../device/when";
import { MomentField } from "../../parts/text/moment";
import { address_of } from "../../place";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";
import { moment_words, tests_of } from "../../salon/alert_tests/alert_tests";
import { zones_of } from "../../salon/service/services";

const TEST_AGAIN = new Set(["missing", "other_line", "lapsed"]);
const TO_READ = new Set(["too_soon", "unread"]);

interface WaysProps {
  service: Entity<"service">;
  reply: SafetyReviewReply;
}

/**
 * Returns the ways on while something holds; nothing once a mix is on or the rules let it start.
 */
export function WaysWhileHeld({ service, reply: { may_start, alert_test } }: WaysProps) {
  if (may_start || zones_of(service.id).some((zone) => zone.first_section_at)) return null;
  const client = service.client ?? "";
  const unread = TO_READ.has(alert_test.state)
    ? tests_of(client).find(({ read_at }) => !read_at)
    : undefined;
  return (
    <section class="stack" aria-label="While it is held">
      <h3>While it is held</h3>
      {TEST_AGAIN.has(alert_test.state) && (
        <a class="button" href={address_of("new_test", client)}>
          Put the alert test on now
        </a>
      )}
      {unread && (
        <a class="button" href={address_of("test", unread.id)}>
          Open the alert test
        </a>
      )}
      {/* A test that reacted or lapsed gives no day to start on. */}
      {TO_READ.has(alert_test.state) && alert_test.ready_at && (
        <p>Its test lets it start from {moment_words(Date.parse(alert_test.ready_at))}.</p>
      )}
      <AnotherDay service={service} />
      <p class="quiet">Your answers are kept. Help, notes and the record stay open.</p>
    </section>
  );
}

/** The visit moved to another day; today's answers are asked again then. */
function AnotherDay({ service: { id, planned_at } }: { service: Entity<"service"> }) {
  const [to, put_to] = useTyped("moved_to", id, "");
  const to_ms = Date.parse(to);
  const move = () => {
    if (!Number.isFinite(to_ms)) return;
    void change("service", id, { planned_at: rfc3339(to_ms) }, "Moved to another day.");
  };
  return (
    <details>
      <summary>Another day instead</summary>
      <div class="stack">
        <MomentField label="New time" value={to} onType={put_to} />
        <button
          type="button"
          class="safety-answer"
          disabled={!Number.isFinite(to_ms) || rfc3339(to_ms) === planned_at}
          onClick={move}
        >
          Move this visit
        </button>
      </div>
    </details>
  );
}
