//go:build amd64 || arm64

package main

import (
	"bytes"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"unsafe"

	"github.com/urfave/cli/v2"
)

// Constants of linux/seccomp.h, linux/filter.h and linux/audit.h.
const (
	prSetNoNewPrivs  = 38
	seccompSetFilter = 1
	forAllThreads    = 1 // SECCOMP_FILTER_FLAG_TSYNC
	killProcess      = 0x80000000
	allow            = 0x7fff0000
	loadWord         = 0x20 // BPF_LD | BPF_W | BPF_ABS
	jumpIfEqual      = 0x15 // BPF_JMP | BPF_JEQ | BPF_K
	giveBack         = 0x06 // BPF_RET | BPF_K
	ioUringSetup     = 425  // another way to a socket
)

// numberOfSeccomp is that of the system call, numberOfArch what the kernel calls
// the machine.
var numberOfSeccomp, numberOfArch = map[string]uintptr{"amd64": 317, "arm64": 277}[runtime.GOARCH], map[string]uint32{"amd64": 0xc000003e, "arm64": 0xc00000b7}[runtime.GOARCH]

type instruction struct {
	code        uint16
	ifSo, ifNot uint8
	k           uint32
}

type program struct {
	length uint16
	first  *instruction
}

// refuseSockets has the kernel end this process, and every process it starts,
// when it makes a socket; it needs no rights.
func refuseSockets() error {
	filter := []instruction{
		{loadWord, 0, 0, 4}, // the machine
		{jumpIfEqual, 1, 0, numberOfArch},
		{giveBack, 0, 0, killProcess},
		{loadWord, 0, 0, 0}, // the call
		{jumpIfEqual, 1, 0, syscall.SYS_SOCKET},
		{jumpIfEqual, 0, 1, ioUringSetup},
		{giveBack, 0, 0, killProcess},
		{giveBack, 0, 0, allow},
	}
	runtime.LockOSThread() // what this thread has, the flag below gives to all
	defer runtime.UnlockOSThread()
	if _, _, errno := syscall.Syscall6(syscall.SYS_PRCTL, prSetNoNewPrivs, 1, 0, 0, 0, 0); errno != 0 {
		return fmt.Errorf("no_new_privs: %w", errno)
	}
	p := program{uint16(len(filter)), &filter[0]}
	if _, _, errno := syscall.Syscall(numberOfSeccomp, seccompSetFilter, forAllThreads, uintptr(unsafe.Pointer(&p))); errno != 0 {
		return fmt.Errorf("seccomp: %w", errno)
	}
	return nil
}

// withoutSockets is the command as the tests run it in a process of its own:
// only bench, which serves a page to this computer, may make a socket.
func withoutSockets(command func()) func() {
	return func() {
		if len(os.Args) < 2 || os.Args[1] != "bench" {
			_ = refuseSockets() // a kernel that cannot is found by the test below
		}
		command()
	}
}

// dial is a command that makes a socket, to see that it cannot.
func dial() {
	if err := refuseSockets(); err != nil {
		fmt.Println("sockets are not refused:", err)
		return
	}
	_, err := net.Dial("tcp", "127.0.0.1:1")
	fmt.Println("dialled:", err)
}

func TestASocketEndsTheProcess(t *testing.T) {
	cmd := exec.Command("dial")
	out, err := cmd.CombinedOutput()
	if bytes.Contains(out, []byte("sockets are not refused")) {
		t.Skipf("this kernel has no seccomp, so that nothing here shows who makes sockets: %s", out)
	}
	if cmd.ProcessState == nil {
		t.Fatal(err)
	}
	status, _ := cmd.ProcessState.Sys().(syscall.WaitStatus)
	if err == nil || !status.Signaled() || status.Signal() != syscall.SIGSYS || len(out) > 0 {
		t.Errorf("a socket is made: %v, %q", err, out)
	}
	// Without the filter it comes back, refused by the other end.
	if _, err := net.Dial("tcp", "127.0.0.1:1"); err == nil || strings.Contains(err.Error(), "bad system call") {
		t.Errorf("dialling gives %v", err)
	}
}

// TestEveryCommandRunsWithoutSockets holds that the scripts, in which a socket
// ends the process, run every command and so show that none makes one.
func TestEveryCommandRunsWithoutSockets(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(root, "testdata", "scripts", "*.txtar"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	var scripts strings.Builder
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		scripts.Write(data)
	}
	var missing []string
	var walk func(path string, list []*cli.Command)
	walk = func(path string, list []*cli.Command) {
		for _, c := range list {
			at := path + " " + c.Name
			if len(c.Subcommands) > 0 {
				walk(at, c.Subcommands)
			} else if at != "backpitch bench" && !strings.Contains(scripts.String(), "exec "+at+" ") && !strings.Contains(scripts.String(), "exec "+at+"\n") {
				missing = append(missing, at)
			}
		}
	}
	walk("backpitch", newApp(nil, nil, nil).Commands)
	if len(missing) > 0 {
		slices.Sort(missing)
		t.Errorf("no script runs %q", missing)
	}
}
