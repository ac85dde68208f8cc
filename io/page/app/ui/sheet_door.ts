import { h } from "./dom";

// Between the live view and the static sheet, which is the page's own HTML and what is printed.

const pageStyle = `
@media screen {
  html[data-view="live"] { overflow: hidden; }
  html[data-view="live"] body > :not(#live) { display: none !important; }
  html[data-view="sheet"] body { padding-top: 5.5rem !important; }
}
@media print { #live { display: none !important; } }
`;

/** Of the page itself; the app's own style stays inside its shadow. */
export function stylePage(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(pageStyle);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}

/** On the sheet, and so on paper however it is printed: that it does not show what was moved here. */
export function tellSheet(isAsPlanned: boolean): void {
  const notice = document.querySelector<HTMLElement>(".sheet .moved-notice");
  if (notice) notice.hidden = isAsPlanned;
}

export class SheetDoor {
  readonly bar: HTMLElement;
  private readonly back: HTMLButtonElement;

  constructor(
    private readonly shell: HTMLElement,
    private readonly returned: () => void,
  ) {
    this.back = h(
      "button",
      { type: "button", class: "primary", onclick: () => this.showLive() },
      "Back to the live view",
    );
    const print = h(
      "button",
      { type: "button", class: "quiet", onclick: () => window.print() },
      "Print",
    );
    this.bar = h("div", { class: "sheet-bar" }, this.back, print);
    this.bar.hidden = true;
  }

  showLive(): void {
    document.documentElement.dataset.view = "live";
    this.shell.hidden = false;
    this.bar.hidden = true;
    this.returned();
  }

  showSheet(): void {
    document.documentElement.dataset.view = "sheet";
    this.shell.hidden = true;
    this.bar.hidden = false;
    scrollTo(0, 0);
    this.back.focus();
  }
}
