/** Tools as a draughtsman would sketch them: 18 px, one line weight, no fill. One not yet drawn is a pencil stroke. */
const PATHS: Readonly<Record<string, string>> = {
  select: "M5 2.5v11l3-2.6 2 4.1 1.8-.9-2-4 4-.4Z",
  // Survey
  walls: "M2.5 15V3.5H15M6 15v-7h9",
  "room-walls": "M2.5 15V3.5H15M6 15v-7h9",
  corners: "M3 3h12v12H3ZM1.5 1.5h3v3h-3ZM13.5 13.5h3v3h-3Z",
  openings: "M1.5 13h4M12.5 13h4M5.5 13V6a7 7 0 0 1 7 7",
  door: "M1.5 13h4M12.5 13h4M5.5 13V6a7 7 0 0 1 7 7",
  window: "M1.5 7h3v4h-3M16.5 7h-3v4h3M4.5 8h9M4.5 10h9",
  passage: "M1.5 9h4M12.5 9h4M5.5 6.5v5M12.5 6.5v5",
  obstacle: "M4 4h10v10H4ZM4 9l5-5M4 14 14 4M9 14l5-5",
  notch: "M2 13h4V7h6v6h4",
  ceiling: "M2 3.5h14M9 6v9M6.5 8.5 9 6l2.5 2.5M6.5 12.5 9 15l2.5-2.5",
  picture: "M2.5 4h13v10h-13ZM2.5 12l4-4 3 3 2-2 4 4M12 6.5h.1",
  // Frame
  decks: "M2 4h14v2H2ZM2 11h14v2H2ZM4 6v5M14 6v5M4 13v3M14 13v3",
  shelf: "M2.5 2.5v13h13M2.5 10H11v5.5",
  bench: "M3 14V8a5 5 0 0 1 5-5h7v5h-4a3 3 0 0 0-3 3v3Z",
  peninsula: "M2 6h6a4.5 4.5 0 1 1 0 6H2",
  disc: "M9 3a6 6 0 1 1 0 12A6 6 0 1 1 9 3",
  backdrop: "M3 5q3-2 6 0t6 0M3 5v8M15 5v8M3 13q3-2 6 0t6 0",
  gate: "M2 13h3M13 13h3M5 13 12 6M5 11v4M13 11v4",
  reshape: "M3.5 4.5c5-2 8 2 11 0v9h-11ZM2 3h3v3H2ZM13 3h3v3h-3ZM2 12h3v3H2ZM13 12h3v3h-3Z",
  label: "M4 4h10M9 4v10M7 14h4",
  section: "M4 15V4M14 15V4M4 9.5h10M4 4h3M14 4h-3",
  // Lay
  line: "M2 14c6 0 4-10 14-10",
  draw: "M2 14c6 0 4-10 14-10",
  straight: "M3 14 15 4",
  curve: "M3 15A12 12 0 0 1 15 3",
  turnout: "M2 13h14M6 13 15 5",
  crossover: "M2 4.5h14M2 13.5h14M4.5 13.5l9-9",
  slip: "M2 13.5 16 4.5M2 4.5l14 9M4 5.8q5 3.6 10 0",
  yard: "M1.5 14.5h15M4 14.5 10 4h6.5M7.6 8.2h8.9M5.6 11.6h10.9M16.5 2.5v13.5",
  turntable: "M8 3.5a5.5 5.5 0 1 1 0 11 5.5 5.5 0 1 1 0-11M1 9h12.5M12.9 6.6 17 4.5M12.9 11.4 17 13.5",
  bumper: "M2 9h10.5M12.5 4.5v9M8 9l4.5-4M8 9l4.5 4",
  beside: "M2 6.5h14M2 11.5h14",
  join: "M2 14c5 0 4-9 9-9M13 5h3",
  split: "M2 9h5M11 9h5M9 4v10",
  helix: "M2 15.5h5c5 0 8-1.2 8-3s-3-3-6-3-6-1-6-2.8 3-2.7 6-2.7 6-1 6.5-2.5M3 6.7c0 2 3 2.8 6 2.8M15 12.5c0-2-3-3-6-3",
  measure: "M2 6v6M16 6v6M2 9h14M6 8v2M9 7v4M12 8v2",
  reverse: "M3 6h10M10 3l3 3-3 3M15 12H5M8 9l-3 3 3 3",
  ladder: "M2 14h14M5 14 13 5M8 11h8M10.5 8H16M13 5h3",
  flex: "M2 12C6 2 11 16 16 6",
  // Grade
  pin: "M9 3.5a2.5 2.5 0 1 1 0 5 2.5 2.5 0 1 1 0-5M9 8.5V15",
  climb: "M2 14h4L14 5h2M12 3.5 14.5 5 13 7.5",
  "climb-routes": "M2 15h3c5 0 3-9 10-9M2 15h3c8 0 2-4.5 7-4.5h3M15 3.5 17 6l-2 2.5M15 8.5l2 2-2 2",
  "climb-sheet": "M3.5 2.5h11v13h-11ZM5.5 9.5h7v-4ZM5.5 12h3M10 12h2.5",
  level: "M2 6.5h14v5H2ZM7 6.5v5M11 6.5v5M9 9h.1",
  hide: "M2 9h3M7 9h4M13 9h3M2 5v8M16 5v8",
};

export function ToolIcon({ tool }: { readonly tool: string }) {
  const words = tool.split("-");
  const path = PATHS[tool] ?? PATHS[words.at(-1) ?? ""] ?? PATHS[words[0] ?? ""] ?? "M3 15 13 5l2-2M11 5l2 2";
  return (
    <svg className="tool-icon" viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
      <path d={path} />
    </svg>
  );
}
