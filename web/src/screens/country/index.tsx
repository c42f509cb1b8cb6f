// Whose rules hold, asked once at the first start: a wrong guess would hold too little or too much.
import { useEffect, useRef } from "preact/hooks";
import { type Profile, say_country } from "../../device/settings";
import "./style.css";

const COUNTRIES: readonly (readonly [Profile, string, string])[] = [
  ["eu", "The European Union", "Emergency number 112"],
  ["uk", "The United Kingdom", "Emergency number 999"],
  ["us", "The United States", "Emergency number 911"],
  ["other", "Another country", "The strictest rules of all, and 112"],
];

/** Returns the question in place of the page; Help stays under it. */
export function Country() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  return (
    <section class="stack country" aria-labelledby="country-heading">
      <h2 ref={heading} id="country-heading" tabIndex={-1}>
        Where do you work?
      </h2>
      <p>The country decides which safety rules hold a service, and the number in Help.</p>
      {COUNTRIES.map(([profile, name, means]) => (
        <button key={profile} type="button" onClick={() => say_country(profile)}>
          <strong>{name}</strong>
          <span>{means}</span>
        </button>
      ))}
      <p class="quiet">Your local rules come first. You can change this in Settings.</p>
    </section>
  );
}
