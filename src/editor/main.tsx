/** Puts the page on the screen. */
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./App.js";
import { createPage } from "./page.js";
import "./tokens.css";
import "./page.css";
import "./margins.css";
import "./profile.css";
import "./tablet.css";

const place = document.getElementById("page");
if (!place) throw new Error("the page has no place to draw in");
const parts = createPage();
createRoot(place).render(
  <StrictMode>
    <App {...parts} />
  </StrictMode>,
);
