// Times of a class as its teacher pastes them: three beakers, six doses each, a tenth of a second on the short ones and whole
// seconds on the long ones. Invented, near to what the model gives for a bottle a quarter slower than the lesson's.

const ROWS = [
  ["1,8 2,0 64 1", "2,0 2,1 88 1", "2,1 2,2 112 1", "2,2 2,3 149 1", "2,3 2,5 3:30 1", "2,4 2,6 5:22 1"],
  [
    "21,0 21,2 18,6 2",
    "21,2 21,4 25,4 2",
    "21,4 21,5 31,8 2",
    "21,5 21,6 43,5 2",
    "21,6 21,7 58,9 2",
    "21,7 21,8 95 2",
  ],
  [
    "33,8 33,9 12,4 3",
    "33,9 34,0 15,2 3",
    "34,0 34,0 19,6 3",
    "34,0 34,1 25,3 3",
    "34,0 34,1 33,0 3",
    "34,1 34,2 53,5 3",
  ],
];

/** The table with its heads, tabs between the cells. */
export const CLASS_TIMES = [
  "dose\tstart\tend\tseconds\tfinish\tbeaker",
  ...ROWS.flatMap((rows) =>
    rows.map((row, index) => {
      const [start, end, seconds, beaker] = row.split(" ");
      return [index + 1, start, end, seconds, "green", beaker].join("\t");
    }),
  ),
].join("\n");
