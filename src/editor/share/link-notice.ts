/** What is told of a link that could not simply be copied: above the sheet, until it is put away. */
import { createStore } from "zustand/vanilla";

export type LinkNotice =
  | { readonly kind: "too-long"; readonly message: string }
  /** The browser let nothing be copied. */
  | { readonly kind: "by-hand"; readonly address: string };

export const linkNotice = createStore<LinkNotice | undefined>()(() => undefined);

export const forgetLink = (): void => linkNotice.setState(undefined, true);
