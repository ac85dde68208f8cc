import cell from "./cell.css";
import lists from "./lists.css";
import shell from "./shell.css";
import small from "./small.css";
import shared from "./style.css";

/** The app's style. Later rules win over earlier ones: those for small screens come last. */
export const style = [shared, shell, cell, lists, small].join("\n");
