// The contract's shapes by their short names. `types.ts` is generated; nothing else reads it.
import type { components } from "./types";

type Schemas = components["schemas"];

export type Hair = Schemas["Hair"];
export type OtherHair = Schemas["OtherHair"];
export type Mix = Schemas["Mix"];
export type Product = Schemas["Product"];
export type ProductClass = Product["class"];
export type Wish = Schemas["Wish"];
export type Limits = Schemas["Limits"];
export type Colour = Schemas["Colour"];
export type Window = Schemas["Window"];
export type Formula = Schemas["Formula"];
export type Shortfall = Schemas["Shortfall"];
export type StripMinute = Schemas["StripMinute"];
export type FormulationRequest = Schemas["FormulationRequest"];
export type FormulationReply = Schemas["FormulationReply"];
export type PredictionRequest = Schemas["PredictionRequest"];
export type PredictionReply = Schemas["PredictionReply"];
export type SafetyFacts = Schemas["SafetyFacts"];
export type AlertTest = Schemas["AlertTest"];
export type HairPast = Schemas["HairPast"];
export type SafetyPlan = Schemas["SafetyPlan"];
export type LineCard = Schemas["LineCard"];
export type SafetyDecision = Schemas["Decision"];
export type House = Schemas["House"];
export type SafetyReviewRequest = Schemas["SafetyReviewRequest"];
export type SafetyReviewReply = Schemas["SafetyReviewReply"];
export type Finding = Schemas["Finding"];
export type Question = Schemas["Question"];
export type AlertTestState = Schemas["AlertTestState"];
export type SafetyRules = Schemas["SafetyRules"];
export type RuleInWords = Schemas["RuleInWords"];
export type Shelf = Schemas["Shelf"];
export type Fault = Schemas["Fault"];
export type Problem = Schemas["Problem"];
