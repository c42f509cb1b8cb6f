// How long an alert test holds here: once, or for the months of the insurer's terms, by name.

import { useState } from "preact/hooks";
import { settings } from "../../device/settings";
import { useTyped } from "../../device/typed";
import { date_words } from "../../device/when";
import each_time from "../../gate/each_time.generated.json";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { reader_names, remember_reader } from "../../salon/alert_tests/alert_tests";
import { set_test_terms, term_words, test_terms } from "../../salon/alert_tests/terms";

const MONTHS = [0, 1, 3, 6].map((months) => [months, term_words(months)] as const);

/** The rules' advice where a test serves once, by the country's rules. */
const EACH_TIME: Partial<Record<string, string>> = each_time;

/** Returns the choice; months are kept only with the name of who read the terms. */
export function TestTermsChoice() {
  const terms = test_terms.value;
  const [by, put_by] = useTyped("terms", "", terms?.by ?? reader_names.value[0] ?? "");
  const [asked, ask_for_name] = useState(false);
  const once = EACH_TIME[settings.value.profile];
  const choose = (months: number) => {
    ask_for_name(months > 0 && !by.trim());
    if (months > 0 && !by.trim()) return;
    if (months > 0) remember_reader(by.trim());
    void set_test_terms(months, by.trim());
  };
  return (
    <div class="stack">
      <TextField
        label="Who read the insurer’s terms"
        value={by}
        onType={put_by}
        mostLength={60}
        fault={asked && !by.trim() ? "Type the name of the person who read the terms." : undefined}
      />
      <Choice
        legend="An alert test holds for"
        options={MONTHS}
        value={terms?.months ?? 0}
        onChoose={choose}
        note={
          terms
            ? `By the insurer’s terms, read by ${terms.by}; look again by ${date_words(terms.review_on)}. A shorter leaflet time wins.`
            : "Use months only if your insurer’s terms say so. A shorter leaflet time wins."
        }
      />
      {once && (
        <p role="status">
          <strong>Not under these rules: each test serves one service.</strong> {once}
        </p>
      )}
    </div>
  );
}
