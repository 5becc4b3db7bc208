// Runs before everything else, and is small: which language is spoken is known only here, and its words must not wait for
// the whole script.

import { askAhead, dress, language } from "./language.js";

const spoken = language();
dress(spoken);
// A page opened from a folder carries its words in itself.
if (location.protocol.startsWith("http")) askAhead(spoken);
