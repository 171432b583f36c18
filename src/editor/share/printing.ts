/** Which print is being asked for, in the slip beside the sheet; it is no part of the plan. */
import { createStore } from "zustand/vanilla";

export type PrintKind = "drawings" | "templates";

export const printing = createStore<PrintKind | undefined>()(() => undefined);

export const askForPrint = (kind: PrintKind | undefined): void => printing.setState(kind, true);
