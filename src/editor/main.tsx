/** Puts the page on the screen. */
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./App.js";
import "./tokens.css";
import "./page.css";

const page = document.getElementById("page");
if (!page) throw new Error("the page has no place to draw in");
createRoot(page).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
