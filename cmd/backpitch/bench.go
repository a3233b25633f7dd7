package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"backpitch/engine/bench/site"
)

func benchCommand() *cli.Command {
	return &cli.Command{
		Name:  "bench",
		Usage: "a page that judges designs and a rule of a class while they are written",
		Description: "Serves the page on 127.0.0.1, for this computer alone, until it is interrupted; or\n" +
			"writes it with --export, to be opened from its folder or put on a server of any kind.\n" +
			"The engine runs in the browser: what is typed there leaves it for nowhere.",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "port", Value: 8642, Usage: "port `N` of 127.0.0.1; 0 for any that is free"},
			&cli.StringFlag{Name: "export", Usage: "write the page into `DIR` and serve nothing"},
		},
		Action: bench,
	}
}

func bench(c *cli.Context) error {
	if c.NArg() > 0 {
		return usageError("backpitch bench [--port N] or backpitch bench --export DIR", "unexpected %q", c.Args().First())
	}
	port := c.Int("port")
	if port < 0 || port > 65535 {
		return usageError("a port is a number from 0 to 65535", "--port %d is none", port)
	}
	if c.IsSet("export") && c.IsSet("port") {
		return usageError("leave one of them out", "--export serves nothing, so it takes no --port")
	}
	if c.IsSet("export") && c.String("export") == "" {
		return usageError("name a folder", "--export is empty")
	}
	page, err := makePage(c)
	if err != nil {
		var hinted interface{ HintText() string }
		if errors.As(err, &hinted) {
			return usageError(hinted.HintText(), "%s", err)
		}
		return err
	}
	if dir := c.String("export"); dir != "" {
		return exportPage(c, page, dir)
	}
	return servePage(c, page, port)
}

// makePage builds the engine for browsers from the checkout that the command
// runs in.
func makePage(c *cli.Context) (*site.Site, error) {
	here, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	root, err := site.Checkout(here)
	if err != nil {
		return nil, err
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, usageError("set XDG_CACHE_HOME or HOME", "there is no folder to keep the engine in: %s", err)
	}
	b := site.Builder{Root: root, Cache: filepath.Join(cache, "backpitch"), Go: "go",
		Say: func(format string, args ...any) { fmt.Fprintf(c.App.ErrWriter, "backpitch: "+format+"\n", args...) }}
	engine, err := b.Build(c.Context)
	if err != nil {
		return nil, err
	}
	return site.New(engine, root)
}

func exportPage(c *cli.Context, page *site.Site, dir string) error {
	if err := page.Write(dir); err != nil {
		return usageError("", "writing the page: %s", pathReason(err))
	}
	fmt.Fprintf(c.App.Writer, "%s\n", filepath.Join(dir, "index.html"))
	return nil
}

func servePage(c *cli.Context, page *site.Site, port int) error {
	l, err := site.Listen(port)
	if err != nil {
		return usageError("--port 0 takes one that is free", "port %d cannot be had: %s", port, err)
	}
	fmt.Fprintf(c.App.Writer, "http://%s/\n", l.Addr())
	fmt.Fprintln(c.App.ErrWriter, "backpitch: only this computer can open it; interrupt ends it")
	return page.Serve(c.Context, l)
}
