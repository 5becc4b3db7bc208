// Runs before everything else, and is small: which language is spoken is known only here, and its words must not wait for
// the whole script. What is fetched ahead is taken by `Words.load`.

import { dress, fileOf, language } from "./language.js";

const spoken = language();
dress(spoken);
// A page opened from a folder carries its words in itself.
if (location.protocol.startsWith("http")) {
  const link = document.createElement("link");
  Object.assign(link, { rel: "preload", href: fileOf(spoken), as: "fetch", crossOrigin: "anonymous" });
  document.head.append(link);
}
