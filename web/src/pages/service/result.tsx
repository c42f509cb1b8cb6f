// What came of a zone: how it dried, then what follows from that.
import { later } from "../../parts/later";
import type { Service, Zone } from "../../salon/service/services";
import { Result } from "../../screens/result";

const AfterLightener = later(() =>
  import("../../screens/lighten/after").then((screen) => screen.AfterLightener),
);
const Dried = later(() => import("../../screens/judge/dried").then((screen) => screen.Dried));
const Afterwards = later(() => import("./afterwards").then((part) => part.Afterwards), {
  after: true,
});

/** Returns the section "Result" of a zone, open. */
export function ResultOf({ service, zone }: { service: Service; zone: Zone }) {
  return (
    <>
      {zone.work === "lightener" && zone.rinsed_at && <AfterLightener key={zone.id} zone={zone} />}
      <Result
        service={service}
        dried={zone.mix && zone.rinsed_at ? <Dried key={zone.id} zone={zone} /> : undefined}
      />
      <Afterwards service={service} zone={zone} />
    </>
  );
}
