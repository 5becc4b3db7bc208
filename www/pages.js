// Lays out what has to be read on as few pages of the card as hold it without scrolling.

/**
 * @typedef {{key?: string, body: HTMLElement[]}} Part what belongs together on a page; the key names the button that leads to it
 * @typedef {{body: HTMLElement[], foot: HTMLElement[]}} Page
 *
 * @param {Part[]} parts
 * @param {HTMLElement} onward the button of the last page
 * @param {object} card
 * @param {(body: HTMLElement[]) => boolean} card.holds whether a page fits with its buttons below it
 * @param {(key: string, act: () => void, kind?: string) => HTMLElement} card.button
 * @param {(page: Page) => void} card.turn
 * @returns {Page} the first page
 */
export function spread(parts, onward, { holds, button, turn }) {
  /** @type {Part[][]} */
  const pages = [];
  for (const part of parts.filter(({ body }) => body.length > 0)) {
    const page = pages.at(-1);
    if (page && holds([...page, part].flatMap(({ body }) => body))) page.push(part);
    else pages.push([part]);
  }
  /** @param {number} index @returns {Page} */
  const page = (index) => {
    const next = pages[index + 1];
    const forward = next ? button(next[0].key ?? "", () => turn(page(index + 1)), "primary") : onward;
    const foot = index > 0 ? [forward, button("ask.back", () => turn(page(index - 1)))] : [forward];
    return { body: pages[index].flatMap(({ body }) => body), foot };
  };
  return page(0);
}
