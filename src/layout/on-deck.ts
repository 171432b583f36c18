/** When track lies on a deck, and when two decks are one level. */
import type { Millimetres } from "../geometry/units.js";

/** A railhead this near a deck's lies on the deck and is carried by it: less than the height of a rail. */
export const ON_DECK: Millimetres = 1;
