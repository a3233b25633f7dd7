// Package policy judges facts by the rules a profile adopts. It is the only
// package that knows OPA.
//
// What enters: the policies file system, a profile, and facts. What leaves: one
// verdict for each subject of each adopted rule, sorted; where a rule has none,
// the verdict is open and names the facts and table entries that are missing.
//
// Refused, with file, line and column: a rule that does not parse or compile, a
// misspelt fact, a table that its METADATA does not declare, incomplete or
// unknown METADATA, a call that reaches for the network, the clock, the
// environment or chance, a rule that reads another rule. At run time: two
// verdicts for one subject, a verdict for what is no subject, a verdict that
// lib.judge did not make, a rule that does not finish in time.
//
// OPA has no memory limit: rules of strangers belong in a process that has one.
package policy
