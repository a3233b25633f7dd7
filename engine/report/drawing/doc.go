// Package drawing turns plain data into drawings: the pump chart, the section
// of the basin, the riser diagram and the strip of the pumped side.
//
// What enters: numbers in the fixed units of package quantity, texts that are
// ready to print, and the finding marks of each element. What leaves: one SVG
// image as bytes, the same bytes for the same data. Nothing is computed about
// water and nothing is judged; a caller turns designs, facts and findings into
// the data.
//
// A drawing is ink in currentColor on whatever paper it lies on. It tells
// things apart by line style, hatching and letters, never by colour alone, and
// asks for no font, script, style sheet or other file. The ring of a finding
// mark takes the custom property --drawing-mark where a page sets it.
//
// It refuses nothing: a value that is not there is not drawn, a pipe that fits
// no tree is listed under the riser, a link that does not stay on its page is
// left out.
package drawing
