// What travels between this phone and the salon's server: the contract's shapes by short names.
import type { components } from "../api/types";
import type { Operation } from "../outbox/operation";

type Schemas = components["schemas"];

export type Change = Schemas["Change"];
export type Standing = Schemas["Standing"];
export type Made = Schemas["Made"];
export type ErasedEntry = Schemas["ErasedEntry"];
export type Pushed = Schemas["Pushed"];
export type Pulled = Schemas["Pulled"];
export type SnapshotPage = Schemas["Page"];
export type Paired = Schemas["Paired"];
export type CodeOffered = Schemas["CodeOffered"];
export type Devices = Schemas["Devices"];
export type KnownDevice = Schemas["KnownDevice"];
export type Offered = Schemas["Offered"];
export type Matters = Schemas["Matters"];
export type PhotoAsked = Schemas["PhotoAsked"];
export type PhotosMissing = Schemas["PhotosMissing"];
export type Searched = Schemas["Searched"];

/** A push with the operations as the outbox holds them. */
export type Push = Required<Omit<Schemas["Push"], "ops">> & { ops: readonly Operation[] };
