// Package exercise makes exercises of sound designs and marks what a class
// hands in.
//
// What enters: a sound design with a seed and how many faults of which topics
// to plant; or answer files, or rules that students wrote, with the key they
// belong to. What leaves: the student's file, its key, and marks as plain data
// that the writers of this package print.
//
// A fault is planted only after a review has shown that it breaks the rule it
// is meant to break, and nothing beyond the consequences that the key records.
// The same design, seed and wishes give the same student's file. A key is
// sealed with a passphrase; nothing of it is in the student's file.
//
// It refuses a design that is not sound, an order for more faults than the
// design can hold, a key that does not open, and answers to another exercise.
// An answer file that cannot be read costs its own marks and no one else's.
package exercise
