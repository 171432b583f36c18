/** The edge between sheet and profile: dragged, or moved with the arrows, to give either more room. */
import { type KeyboardEvent, type PointerEvent, useRef, useState } from "react";
import { useEditor } from "../editor-context.js";

/** Share of the window that a section begins with. */
const SECTION = 0.44;
/** px. In Grade the climb is in hand and gets the room; Twin lets the profile grow. */
const HEIGHTS = { least: 120, low: 208, usual: 264, grade: 330, step: 24 } as const;

/** The profile's height: what the stage asks for, or a section in its place, until someone has pulled the edge. */
export function useProfileHeight(section = false): [number, (height: number) => void] {
  const tall = useEditor((state) => state.stage === "grade" || state.deckView === "twin");
  const [own, setOwn] = useState<number>();
  const most = Math.max(HEIGHTS.least, Math.round(innerHeight * 0.6));
  // A low window keeps most of its height for the sheet, an upright one its readings under the profile.
  const share = Math.round(Math.min(innerHeight * (tall ? 0.36 : 0.28), innerWidth * (tall ? 0.34 : 0.26)));
  // A section is as high as it is wide, not a strip.
  if (section)
    return [
      own ?? Math.round(innerHeight * SECTION),
      (wanted) => setOwn(Math.min(Math.max(wanted, HEIGHTS.least), most)),
    ];
  const height = own ?? Math.max(Math.min(tall ? HEIGHTS.grade : HEIGHTS.usual, share), HEIGHTS.low);
  return [height, (wanted) => setOwn(Math.min(Math.max(wanted, HEIGHTS.least), most))];
}

export interface ProfileEdgeProps {
  readonly height: number;
  readonly onHeight: (height: number) => void;
}

export function ProfileEdge({ height, onHeight }: ProfileEdgeProps) {
  const held = useRef<{ readonly y: number; readonly height: number }>(undefined);
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    onHeight(height + step * HEIGHTS.step);
  };
  return (
    <div
      className="profile-edge"
      role="separator"
      aria-orientation="horizontal"
      aria-label="Height of the profile"
      aria-valuenow={height}
      aria-valuemin={HEIGHTS.least}
      aria-valuemax={Math.round(innerHeight * 0.6)}
      tabIndex={0}
      onKeyDown={key}
      onPointerDown={(event: PointerEvent<HTMLDivElement>) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        held.current = { y: event.clientY, height };
      }}
      onPointerMove={(event: PointerEvent) => {
        if (held.current) onHeight(held.current.height + held.current.y - event.clientY);
      }}
      onPointerUp={() => {
        held.current = undefined;
      }}
      onPointerCancel={() => {
        held.current = undefined;
      }}
    />
  );
}
