// How this phone shows weights, developer, money and light.
import { useEffect, useRef } from "preact/hooks";
import { settings } from "../../device/settings";
import { in_demo } from "../../outbox/world";
import { Choice } from "../../parts/choice";
import { later } from "../../parts/later";
import { DemoDay } from "./demo";
import { EngineHere } from "./engine";
import { Offline } from "./offline";

const RecordFiles = later(() => import("./files").then((part) => part.RecordFiles));
const Team = later<object>(() => import("./team").then((part) => part.Team));
const Salon = later(() => import("./salon").then((part) => part.Salon));
const TestTermsChoice = later<object>(() =>
  import("./alert_test_terms").then((part) => part.TestTermsChoice),
);
const CURRENCIES = ["€", "£", "$", "kr", "CHF"] as const;

/** Returns the settings; each takes effect at once. */
export function SettingsScreen({ onDone }: { onDone: () => void }) {
  const { weight, developer, currency, theme, profile } = settings.value;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
    heading.current?.scrollIntoView();
  }, []);
  const put = (fields: Partial<typeof settings.value>) => {
    settings.value = { ...settings.value, ...fields };
  };
  return (
    <section class="settings stack" aria-labelledby="settings-heading">
      <h2 ref={heading} id="settings-heading" tabIndex={-1}>
        Settings
      </h2>
      <Choice
        legend="Weights in"
        options={[
          ["g", "grams"],
          ["oz", "ounces"],
        ]}
        value={weight}
        onChoose={(value) => put({ weight: value })}
      />
      <Choice
        legend="Developer in"
        options={[
          ["percent", "percent"],
          ["volume", "volumes"],
        ]}
        value={developer}
        onChoose={(value) => put({ developer: value })}
        note="Volumes are percent × 10 ÷ 3: 6 % is 20 vol."
      />
      <Choice
        legend="Prices in"
        options={CURRENCIES.map((sign) => [sign, sign] as const)}
        value={currency}
        onChoose={(value) => put({ currency: value })}
      />
      <Choice
        legend="Light"
        options={[
          ["device", "as this device"],
          ["light", "light"],
          ["dark", "dark"],
        ]}
        value={theme}
        onChoose={(value) => put({ theme: value })}
        note="Turn night tint, auto-tone and dimming off, and brightness up."
      />
      <Choice
        legend="Rules and emergency number of"
        options={[
          ["eu", "the European Union"],
          ["uk", "the United Kingdom"],
          ["us", "the United States"],
          ["other", "elsewhere"],
        ]}
        value={profile}
        onChoose={(value) => put({ profile: value })}
        note="Elsewhere uses the strictest rules, and 112."
      />
      <TestTermsChoice />
      {!in_demo && <Salon />}
      <Team />
      {!in_demo && <RecordFiles />}
      <DemoDay />
      <EngineHere />
      <Offline />
      <button type="button" class="settings-done" onClick={onDone}>
        Done
      </button>
    </section>
  );
}
