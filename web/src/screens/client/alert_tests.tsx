// A client's alert tests, and the way to another.

import { date_words, rfc3339 } from "../../device/when";
import { address_of } from "../../place";
import { applied_ms, test_words, tests_of } from "../../salon/alert_tests/alert_tests";

/** Returns the tests, the latest first. */
export function Tests({ client }: { client: string }) {
  const now_ms = Date.now();
  return (
    <div class="stack">
      <h3>Alert tests</h3>
      <ul>
        {tests_of(client).map((test) => (
          <li key={test.id}>
            <a class="visit" href={address_of("test", test.id)}>
              <strong>{test.line}</strong>
              <span>
                {date_words(rfc3339(applied_ms(test)))}: {test_words(test, now_ms)}
              </span>
            </a>
          </li>
        ))}
      </ul>
      <a class="button" href={address_of("new_test", client)}>
        New alert test
      </a>
    </div>
  );
}
