// Where the files are that the page asks for by name. Served as built, each is where its name says; in a release its name
// has the mark of its content in it, and `./build.sh release` puts that table in this one's place.

/** @type {Record<string, string>} the name in the house to the name in the release */
export const NAMES = {};
