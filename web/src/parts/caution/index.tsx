// The caution that always shows: a short line wherever grams show, and the whole on the page.
import "./style.css";

/** Returns the line beside grams, with the way to the whole. */
export function CautionLine() {
  return (
    <p class="caution-line">
      <span>The maker’s instructions come first. The leaflet overrides this page.</span>
      <button type="button" onClick={to_the_whole}>
        Before you mix
      </button>
    </p>
  );
}

/** Scrolls to the section by hand: the URL fragment holds the current place. */
function to_the_whole(): void {
  const heading = document.getElementById("before-you-mix-heading");
  heading?.scrollIntoView();
  heading?.focus({ preventScroll: true });
}

/** Returns the section "Before you mix". */
export function BeforeYouMix() {
  return (
    <section id="before-you-mix" class="caution" aria-labelledby="before-you-mix-heading">
      <h2 id="before-you-mix-heading" tabIndex={-1}>
        Before you mix
      </h2>
      <ul>
        <li>
          <strong>Alert test.</strong> Hair colour can cause severe allergic reactions. Do the alert
          test for this line as its leaflet says, usually 48 hours ahead, and read it. A clear test
          lowers the risk but does not make a service safe.
        </li>
        <li>
          <strong>The maker’s instructions.</strong> Follow the leaflet in the box: who it is for,
          what may be mixed with what, how strong the developer, how long at most. Where it differs
          from this page, the leaflet is right.
        </li>
        <li>
          <strong>Your law and licence.</strong> Local rules on age, patch testing and peroxide
          apply. Peroxide for hair is 12 % at most in the EU and the UK.
        </li>
        <li>
          <strong>Do not start</strong> on broken or sore skin, after an earlier reaction to hair
          colour or to a temporary black tattoo, or near brows and lashes.
        </li>
        <li>
          <strong>Burning, strong itch or swelling:</strong> rinse at once and get medical help.
        </li>
        <li>
          <strong>These colours are calculated, not seen.</strong> 8 heads in 10 end up inside the
          range at the edges. Dry a strand before you decide.
        </li>
      </ul>
      <p>For professional use. Wear gloves.</p>
    </section>
  );
}
