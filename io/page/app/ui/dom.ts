import { shown } from "../model/shown";

// Elements from data. Text is always set as text, never parsed, and shown without unsafe characters: names
// may hold anything.

type Child = Node | string | null;
type Attributes = Record<string, string | number | boolean | null | ((event: never) => void)>;

export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") {
      element.addEventListener(name.slice(2), value as (event: Event) => void);
    } else if (value !== null && value !== false) {
      const isRead = name === "aria-label" || name === "title";
      element.setAttribute(
        name,
        value === true ? "" : isRead ? shown(String(value)) : String(value),
      );
    }
  }
  const kept = children.filter((child): child is Node | string => child !== null);
  element.append(...kept.map((child) => (typeof child === "string" ? shown(child) : child)));
  return element;
}

const svgName = "http://www.w3.org/2000/svg";

export function svg(
  tag: string,
  attributes: Record<string, string | number>,
  ...children: SVGElement[]
): SVGElement {
  const element = document.createElementNS(svgName, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...children);
  return element;
}

/** Sets text only where it differs, so that a reader of the screen is not told it again. */
export function setText(element: Element, text: string): void {
  const safe = shown(text);
  if (element.textContent !== safe) element.textContent = safe;
}

/** The system's clipboard; where the browser refuses it, the older method through a selection. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = h("textarea", { style: "position:fixed;opacity:0" });
    area.value = text;
    document.body.append(area);
    area.select();
    const isDone = document.execCommand("copy");
    area.remove();
    return isDone;
  }
}

/** A button that copies and says so for a moment. */
export function copyButton(words: string, text: () => string): HTMLButtonElement {
  const button = h("button", { type: "button", class: "quiet" }, words);
  button.addEventListener("click", async () => {
    const isDone = await copyText(text());
    button.textContent = isDone ? "Copied" : "Could not copy";
    setTimeout(() => (button.textContent = words), 1400);
  });
  return button;
}

export function download(name: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  h("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
