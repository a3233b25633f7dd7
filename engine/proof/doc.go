// Package proof tests profiles and rules: what it finds is about the policies,
// never about a design.
//
// What enters: the policies file system and the ids of profiles. What leaves: a
// Report with everything that a rule or profile lacks, and with the figures
// that could be shown to decide. For every figure that an adopted rule reads, a
// proof judges facts exactly at the limit, one smallest unit beyond it, and
// without each fact the rule needs; the facts are those of the rule's own Rego
// tests, with the figure's key and the limit put in. With Mutate, every figure
// and every comparison is changed in turn and what nobody notices is named.
//
// Refused with an error: policies that do not load, parse or compile. Nothing
// is judged about whether a figure is right: only a published text can say so.
package proof
