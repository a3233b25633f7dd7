// Package rulebook is the book of rules: for each rule what it checks, why, an
// example that fails and one that passes, what each profile asks for, and which
// rules are related.
//
// What enters: profiles and the rules they adopt, and the examples, which are
// found by planting faults into sound designs and judging both. What leaves: a
// Book of plain data, and a writer for text, markdown and HTML. The HTML is one
// file that asks nothing of a network and runs no script.
//
// It refuses to invent: an example is what a review said of a design, kept in
// examples.json, and a test judges every one of them again. A rule without an
// example says so.
package rulebook
