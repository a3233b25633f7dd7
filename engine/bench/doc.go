// Package bench is what stands behind the page of the instructor's bench: it
// reviews a design while it is written, with one rule or amendment of a class
// laid over a profile.
//
// What enters: texts as they stand in the page. What leaves: plain data to
// show, with findings numbered, marked in the riser diagram and tied to lines,
// and faults of the class's own texts by line and column.
//
// It opens no file, starts nothing and knows nothing of browsers: the same code
// runs in a test and, as WebAssembly, in the page. It refuses a rule that names
// no package and an amendment that is no object; what is wrong inside them the
// engine says.
package bench
