/** "Your first deck in ten minutes": from an empty sheet to a shelf with a passing siding whose readings are clear. */
import { CAUTIONS } from "./cautions.js";
import { pictureNamed } from "./pictures.js";

interface Step {
  readonly title: string;
  readonly picture: string;
  readonly alt: string;
  readonly words: readonly string[];
}

const STEPS: readonly Step[] = [
  {
    title: "A room",
    picture: "first-deck-room",
    alt: "An empty room on the sheet with a door in one wall",
    words: [
      "File, New plan: type the room’s size in any unit (12 ft 6, or 3.8 m), and choose your scale. Its limits come from published standards, each with its source; you can overrule any of them later, with your reason.",
      "Survey: take Door and click where it stands in its wall; type a width while you draw to have it exactly. Windows, passages and what stands in the room go in the same way.",
    ],
  },
  {
    title: "A deck and its shelf",
    picture: "first-deck-shelf",
    alt: "A shelf along two walls of the room",
    words: [
      "The plan begins with one deck. While nothing is selected, Details lists the decks: choose it there to give it a height and the structure below its railhead.",
      "Frame: take Shelf, click one end of it on a wall and then the other end. Type its depth.",
    ],
  },
  {
    title: "The main",
    picture: "first-deck-main",
    alt: "A main laid along the shelf with an eased curve in the corner",
    words: [
      "Lay: take Line and click where the main starts. Each click lays an eased curve and a straight to the pointer; type a number and press Enter to lay exactly so much. Esc ends the line.",
      "Where a limit stops you, the label at the pointer says which one.",
    ],
  },
  {
    title: "A siding",
    picture: "first-deck-siding",
    alt: "A passing siding between two turnouts",
    words: [
      "Take Turnout and click on the main, once at each end of the siding to be. Then Beside for the track between them, and Join to bring both ends in.",
      "Move the main: turnouts and siding come along.",
    ],
  },
  {
    title: "Heights",
    picture: "first-deck-profile",
    alt: "The profile below the sheet with two height pins",
    words: [
      "Grade: take Pin height, hold a height at one end and another where the line is to be higher. Between pins the track takes an even grade, and the profile shows what lies under and over it.",
      "Drag a pin up or down and watch the readings.",
    ],
  },
  {
    title: "Read it",
    picture: "first-deck-readings",
    alt: "The readings column, all clear but one that is tight",
    words: [
      "Every reading has a value, a limit and a word: Clear, Tight or Fails. Choose one and the sheet flies to where it is worst. What is tight you may live with, and say why.",
      "Save: the file is yours, to keep or to send to a friend.",
    ],
  },
];

export function FirstDeck() {
  return (
    <>
      <h2>Your first deck in ten minutes</h2>
      <ol className="steps">
        {STEPS.map((step) => (
          <li key={step.title}>
            <div>
              <h3>{step.title}</h3>
              {step.words.map((words) => (
                <p key={words}>{words}</p>
              ))}
            </div>
            <Picture name={step.picture} alt={step.alt} />
          </li>
        ))}
      </ol>
      <p className="caution">{CAUTIONS.exits}</p>
      <p className="caution">{CAUTIONS.structure}</p>
    </>
  );
}

function Picture({ name, alt }: { readonly name: string; readonly alt: string }) {
  const url = pictureNamed(name);
  return url ? <img src={url} alt={alt} loading="lazy" /> : <div className="picture" role="img" aria-label={alt} />;
}
