/** The first hundred of three hundred random rooms; see sound-rooms.ts. */
import { soundRooms } from "./sound-rooms.js";

soundRooms(0, 100);
