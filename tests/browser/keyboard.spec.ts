/** With the keys alone: a tool by its letter, numbers, the list of objects, Details, deletion; then all of it undone. */
import { expect, test } from "@playwright/test";
import { downloaded, openPage, sampleText, tabTo, undoAll } from "./support/desk.js";

test("works by keyboard alone, and all of it can be undone", async ({ page }) => {
  await openPage(page);
  const { keyboard } = page;
  const title = page.getByRole("heading", { level: 1 });
  const sheet = page.getByRole("application");

  // The free end of a spur, found in the list of objects.
  await tabTo(page, page.locator("summary").filter({ hasText: "Objects" }), "Shift+Tab");
  await keyboard.press("Enter");
  const list = page.getByRole("listbox", { name: "Objects of the plan" });
  await tabTo(page, list);
  const spur = list.getByRole("option", { name: /^spur Quarry spur/ });
  const chooseSpur = async (): Promise<void> => {
    for (let i = 0; (await spur.getAttribute("aria-selected")) !== "true"; i++) {
      expect(i).toBeLessThan(100);
      await keyboard.press("ArrowDown");
    }
  };
  await chooseSpur();
  await expect(page.getByRole("heading", { name: "Track", exact: true })).toBeVisible();

  // Straight by its letter, so long as typed, twice.
  await keyboard.press("Alt+3");
  await keyboard.press("s");
  await expect(page.getByRole("button", { name: "Straight", exact: true })).toHaveAttribute("aria-pressed", "true");
  await tabTo(page, sheet, "Shift+Tab");
  await keyboard.type("12");
  await keyboard.press("Enter");
  await expect(title).toContainText("unsaved changes");
  await keyboard.type("6 1/2");
  await keyboard.press("Enter");
  await keyboard.press("Escape");
  await keyboard.press("Escape");
  const save = (): Promise<string> => downloaded(page, () => keyboard.press("Control+Shift+S"));
  const legs = (text: string): unknown => JSON.parse(text).tracks["quarry-spur"]?.legs.slice(3);
  const straight = (mm: number) => ({ straight: expect.closeTo(mm, 9) });
  const laid = await save();
  expect(legs(laid)).toEqual([straight(304.8), straight(165.1)]);

  // Undo and redo.
  await keyboard.press("Control+z");
  expect(legs(await save())).toEqual([straight(304.8)]);
  await keyboard.press("Control+Shift+Z");
  expect(await save()).toBe(laid);

  // A number typed over in Details.
  const angle = page.getByRole("textbox", { name: "Angle" });
  // With something chosen Tab goes through the objects; Esc lets go, and Tab leaves the sheet.
  await keyboard.press("Escape");
  await tabTo(page, list);
  await chooseSpur();
  await tabTo(page, angle, "Shift+Tab");
  await keyboard.press("Control+a");
  await keyboard.type("12.5");
  await keyboard.press("Enter");
  await expect(angle).toHaveValue(/^12\.5/);
  await tabTo(page, sheet, "Shift+Tab");

  // Taken up.
  await keyboard.press("Delete");
  await expect(spur).toHaveCount(0);
  const taken = JSON.parse(await save()) as { readonly tracks: Readonly<Record<string, unknown>> };
  expect(Object.keys(taken.tracks)).not.toContain("quarry-spur");

  expect(await undoAll(page, () => keyboard.press("Control+z"))).toBeGreaterThanOrEqual(4);
  await expect(spur).toHaveCount(1);
  expect(await save()).toBe(sampleText);
});
