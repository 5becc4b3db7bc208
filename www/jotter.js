// What is typed into a place of the desk and belongs to no lesson: kept on this device by the letter. A reload, a crash, a kill
// and a closed tab lose nothing of it.

import { freshKey } from "./shelf.js";

/** The jotter of one part of the page. @template T */
export class Jotter {
  /**
   * @param {import("./shelf.js").Shelf} shelf
   * @param {string} part
   * @param {(typed: any) => typed is T} fits whether what is kept can be shown here
   * @param {() => void} forget takes off the page what was typed, when all that is kept is to be forgotten
   */
  constructor(shelf, part, fits, forget) {
    this.shelf = shelf;
    this.part = part;
    this.fits = fits;
    this.key = freshKey(part);
    /** Whether what stands here now is kept. */
    this.isKept = true;
    shelf.forgetters.set(part, forget);
  }

  /** What this very tab had, else the newest of this device. @returns {T | null} */
  read() {
    const { shelf, part } = this;
    const mine = shelf.mine(part);
    // Another tab that was emptied says nothing of what this one had.
    const kept = shelf
      .keys(part)
      .map((key) => ({ key, ...shelf.read(key) }))
      .filter(({ key, typed }) => (typed === null ? key === mine : this.fits(typed)))
      .sort((one, other) => other.saved - one.saved);
    const found = kept.find(({ key }) => key === mine) ?? kept[0];
    if (!found?.typed) return null;
    // From here it is this tab's. A tab that is still at it keeps it anew with its next letter.
    this.write(found.typed);
    if (this.isKept) shelf.remove(found.key);
    return found.typed;
  }

  /** Keeps it. @param {T | null} typed nothing where all was taken away, which is kept too: it must not come back after a kill */
  write(typed) {
    this.isKept = this.shelf.put(this.key, { typed }) === "kept";
  }
}
