// The opening screen until there is a client: what the page is for, in a line and a living strip.
import { use_demo } from "../../demo/open";
import { country_known, type Profile, say_country } from "../../device/settings";
import { later } from "../../parts/later";
import { address_of } from "../../place";
import "./home.css";

/** Every place waits for what is loaded here, so the strip comes when there is nobody yet. */
const LivingStrip = later<object>(() => import("./living_strip").then((part) => part.LivingStrip), {
  quiet: true,
});

const COUNTRIES: readonly (readonly [Profile, string, string])[] = [
  ["eu", "EU", "The European Union"],
  ["uk", "UK", "The United Kingdom"],
  ["us", "US", "The United States"],
  ["other", "Elsewhere", "Another country"],
];

/** Returns the screen's upper part; `onNew` plans the first visit, once the country is said. */
export function Home({ onNew }: { onNew: () => void }) {
  const [said, open_demo] = use_demo();
  return (
    <div class="home">
      <p class="home-words">What to mix, when to rinse, and what it dries to.</p>
      <div class="home-strip">
        <LivingStrip />
      </div>
      <div class="home-ways">
        {country_known.value && (
          <button type="button" onClick={onNew}>
            New service
          </button>
        )}
        <button type="button" onClick={open_demo}>
          Open the demo day
        </button>
        <a class="button" href={address_of("shelf")}>
          Start with my own shelf
        </a>
      </div>
      {said && <p role="alert">{said}</p>}
      {!country_known.value && <Country />}
      <p class="quiet">Your records stay on this phone.</p>
    </div>
  );
}

function Country() {
  return (
    <div class="home-country">
      <h2 id="country-heading">Where do you work?</h2>
      <p class="quiet">It sets the rules, and the number in Help.</p>
      <div class="home-countries" role="group" aria-labelledby="country-heading">
        {COUNTRIES.map(([profile, short, name]) => (
          <button
            key={profile}
            type="button"
            aria-label={name}
            onClick={() => say_country(profile)}
          >
            {short}
          </button>
        ))}
      </div>
    </div>
  );
}
