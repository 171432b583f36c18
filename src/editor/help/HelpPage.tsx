/** The help: three short pages over the sheet, closed by Esc. Loaded only when it is asked for. */
import { useEffect, useRef } from "react";
import type { Tool } from "../tool.js";
import { useEscape } from "../use-escape.js";
import { CAUTIONS } from "./cautions.js";
import { FirstDeck } from "./FirstDeck.js";
import { KeyList } from "./KeyList.js";
import "./help.css";

export type HelpTopic = "keys" | "first-deck" | "cautions";

export interface HelpPageProps {
  readonly topic: HelpTopic;
  readonly tools: readonly Tool[];
  readonly onTopic: (topic: HelpTopic | undefined) => void;
}

const TOPICS: readonly { readonly topic: HelpTopic; readonly name: string }[] = [
  { topic: "first-deck", name: "Your first deck" },
  { topic: "keys", name: "Keys" },
  { topic: "cautions", name: "Cautions" },
];

export default function HelpPage({ topic, tools, onTopic }: HelpPageProps) {
  const page = useRef<HTMLElement>(null);
  useEffect(() => {
    page.current?.focus();
    page.current?.scrollTo(0, 0);
  }, [topic]);
  useEscape(page, () => onTopic(undefined));
  return (
    <section className="help" ref={page} tabIndex={-1} aria-label="Help">
      <nav aria-label="Pages of the help">
        {TOPICS.map(({ topic: one, name }) => (
          <button
            key={one}
            type="button"
            className="button plain"
            aria-current={one === topic ? "page" : undefined}
            onClick={() => onTopic(one)}
          >
            {name}
          </button>
        ))}
        <button type="button" className="button" onClick={() => onTopic(undefined)}>
          Back to the sheet
        </button>
      </nav>
      {topic === "first-deck" ? <FirstDeck /> : topic === "keys" ? <KeyList tools={tools} /> : <Cautions />}
    </section>
  );
}

const NAMES: Readonly<Record<keyof typeof CAUTIONS, string>> = {
  exits: "The way out",
  windows: "Windows",
  duckunders: "Duckunders",
  mains: "Mains",
  structure: "Structure and loads",
  tools: "Tools",
};

function Cautions() {
  return (
    <>
      <h2>Cautions</h2>
      <p>The planner measures a drawing. It knows nothing of your house, your codes or your health.</p>
      <dl className="cautions">
        {Object.entries(CAUTIONS).map(([id, words]) => (
          <div key={id}>
            <dt>{Object.entries(NAMES).find(([key]) => key === id)?.[1]}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}
