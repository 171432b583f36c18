/** Plans so large that what follows every move of a hand on a small one has to wait its turn. */
import type { Layout } from "../layout/layout.js";

/** Up to so many lines an edit, its painting and a way through the network fit between two frames. */
const LARGE = 300;

export const isLarge = ({ lines }: Pick<Layout, "lines">): boolean => lines.size > LARGE;
