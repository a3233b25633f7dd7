// Package site makes and serves the page of the instructor's bench.
//
// What enters: a checkout of the project, of which the Go toolchain builds the
// engine for browsers, and its sample designs. What leaves: a fixed list of
// files, served to this computer alone or written into a folder. It is the only
// package of the project that listens, and only the command bench imports it.
//
// It refuses any address but the loopback one, any request that names another
// host, any method but GET and HEAD, and any path that is not in its list; there
// is no listing of folders, for it serves none.
package site
