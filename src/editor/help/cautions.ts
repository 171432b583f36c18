/**
 * Where the work can hurt someone. Short, and always ending at those who may decide: local codes and licensed people.
 * Shown beside the thing they bear on, and together in the help.
 */
export type CautionId = "exits" | "windows" | "duckunders" | "mains" | "structure" | "tools";

export const CAUTIONS: Readonly<Record<CautionId, string>> = {
  exits:
    "Keep the way out free: a person in the dark must get through every exit door without lifting anything. Your local fire and building codes decide.",
  windows:
    "A window may be a way of escape in a fire; a bench across it can take that away. Ask your local building authority before closing one off.",
  duckunders:
    "Ducking under and stepping over hurt heads and backs, and keep some people out. Prefer a gate that opens from both sides, pad what stays, and mark it.",
  mains: "Mains wiring, sockets and lighting circuits are work for a licensed electrician, under your local code.",
  structure:
    "Decks, brackets and fixings into walls carry more than track: people lean on them. Have walls, ceilings and loads judged by someone qualified, and look for pipes and wires before drilling.",
  tools: "Saws, drills and soldering irons: guard eyes, ears, lungs and fingers as their makers say, and air the room.",
};
