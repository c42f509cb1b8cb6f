// The emergency card's content: four signs, the order that comes first, the steps, and their
// sources. Rinsing takes the longer time of the sources: 20 minutes, although some say 15.
import type { Profile } from "../../device/settings";

export const RINSE_MIN = 20;

interface AidSource {
  title: string;
  where: string;
  /** False until somebody has read the primary text: the card then says so. */
  checked: boolean;
}

export interface FirstAid {
  id: "eye" | "breathing" | "skin" | "foil";
  /** What you see or hear. */
  sign: string;
  /** What to do at once; `call` is the emergency number. */
  order: (call: string) => string;
  steps: readonly string[];
  /** What the 20 minutes are for; null if calling comes before rinsing. */
  rinse: "eye" | "skin" | null;
  sources: readonly AidSource[];
}

/** Returns the emergency number of a profile: 112 if no other is known. */
export function emergency_number(profile: Profile): string {
  return profile === "uk" ? "999" : profile === "us" ? "911" : "112";
}

const ANAPHYLAXIS_SIGNS: AidSource = {
  title: "NHS, Anaphylaxis",
  where: "nhs.uk/conditions/anaphylaxis",
  checked: true,
};
const BURNS_STUDY: AidSource = {
  title: "Scalp burns from hair lightening, two burns centres, 2016 to 2020",
  where: "doi 10.34239/ajops.88914",
  checked: true,
};
const BURN_RINSE: AidSource = {
  title: "Burns centre first aid, chemical burns: cool running water, 20 minutes or more",
  where: "burnscentre.org/chemical-burns",
  checked: true,
};

export const FIRST_AID: readonly FirstAid[] = [
  {
    id: "eye",
    sign: "Something in the eye",
    order: () => `Rinse the eye now. ${RINSE_MIN}\u00a0minutes.`,
    rinse: "eye",
    steps: [
      "Plain water, a gentle stream. Hold the lids open.",
      "Contact lenses come out while you rinse. Do not stop to look for them.",
      "No rubbing. No drops.",
      "It still burns or stings: call an ambulance. Keep rinsing until help is there.",
      "Then medical care in any case. Take the product or its label along.",
    ],
    sources: [
      {
        title: "NHS, eye injuries: wash at least 20 minutes, then seek care",
        where: "myhealthbracknell.info, eye injuries",
        checked: true,
      },
      {
        title: "Healthinfo, chemicals in the eyes: at least 15 minutes, no rubbing, ambulance",
        where: "healthinfo.org.nz/chemicals-in-eyes.htm",
        checked: true,
      },
      {
        title: "EU cosmetics regulation 1223/2009, Annex III, entry 12: rinse at once on contact",
        where: "as amended by 2019/831",
        checked: true,
      },
    ],
  },
  {
    id: "breathing",
    sign: "Swelling, or trouble breathing",
    order: (call) => `Call ${call}. Say “anaphylaxis”.`,
    rinse: null,
    steps: [
      "Signs: lips, mouth, tongue or throat swell; breathing is fast, hard or noisy; the throat is tight; skin turns grey, blue or pale; sudden dizziness, confusion, fainting.",
      "Lie the client flat, legs raised. Propped up only if breathing is hard. No standing, no walking.",
      "Their own adrenaline pen at once, and note the time. No better after 5 minutes: a second one.",
      "Somebody else rinses, if that delays none of this.",
      "Stay with them until help is there.",
      "Only itch or hives so far: rinse now, mild shampoo, and watch the breathing. It grows or spreads: call.",
    ],
    sources: [
      ANAPHYLAXIS_SIGNS,
      {
        title: "Anaphylaxis UK, What to do in an emergency",
        where: "anaphylaxis.org.uk/what-to-do-in-an-emergency",
        checked: true,
      },
      {
        title: "Reactions to persulfate lightener, Archives of Dermatology 1976;112:1407–9",
        where: "abstract",
        checked: true,
      },
    ],
  },
  {
    id: "skin",
    sign: "Skin burns or hurts",
    order: () => `Rinse now. ${RINSE_MIN}\u00a0minutes.`,
    rinse: "skin",
    steps: [
      "Cool running water over all of it, and keep it out of the eyes.",
      "All of the mix comes off. It is not started again today.",
      "Blisters, raw or numb skin, or pain that stays: a doctor, today.",
      "A burn may show late: call the client tomorrow.",
      "Swelling, hives, dizziness or trouble breathing: see above, and call.",
    ],
    sources: [
      {
        title: "Two salon burns cut short by scalp pain, Danish allergy centre, 2006",
        where: "videncenterforallergi.dk",
        checked: true,
      },
      BURNS_STUDY,
      BURN_RINSE,
    ],
  },
  {
    id: "foil",
    sign: "A hot foil",
    order: () => `Take it out, then rinse. ${RINSE_MIN}\u00a0minutes.`,
    rinse: "skin",
    steps: [
      "Gloves on. Slide it out: do not squeeze it, do not open it over the scalp.",
      "Cool running water over that hair and the skin under it. Then feel every other foil.",
      "Think of metal in the hair. No more lightener and no peroxide today.",
      "Blisters, raw or numb skin, or pain that stays: a doctor, today.",
      "A burn may show late: call the client tomorrow.",
    ],
    sources: [
      BURNS_STUDY,
      BURN_RINSE,
      { title: "Metal salts in hair heat up with peroxide", where: "trade pages", checked: false },
    ],
  },
];
