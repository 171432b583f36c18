/** Pictures of the help, by name; the browser tests take them. One that is not there yet is an empty frame. */
const FILES = import.meta.glob<string>("../../../docs/pictures/*.png", {
  query: "?url",
  import: "default",
  eager: true,
});

export const pictureNamed = (name: string): string | undefined => FILES[`../../../docs/pictures/${name}.png`];
