package main

import (
	"fmt"
	"os"
	"unsafe"

	"golang.org/x/sys/windows"
)

// stay keeps the window open until a key is pressed when it was opened for this run alone, as when a workbook is dropped on
// the program's icon: else it would close before anything in it could be read. It gives code on.
func stay(code int) int {
	if !windowIsOurs() {
		return code
	}
	in := windows.Handle(os.Stdin.Fd())
	var before uint32
	if windows.GetConsoleMode(in, &before) != nil {
		return code // nobody can press a key here
	}
	fmt.Print("\nPress a key to close this window.")
	// Without line input a read ends with the first key; keys pressed during the run don't count.
	if windows.SetConsoleMode(in, before&^(windows.ENABLE_LINE_INPUT|windows.ENABLE_ECHO_INPUT)) != nil || windows.FlushConsoleInputBuffer(in) != nil {
		return code
	}
	var key [1]uint16
	var n uint32
	_ = windows.ReadConsole(in, &key[0], 1, &n, nil) // whatever it says, the run is over
	_ = windows.SetConsoleMode(in, before)
	return code
}

var consoleProcesses = windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList")

// windowIsOurs reports whether this program is the only one in its console window. Started from a command line the shell is
// in it too; without a console the count is 0.
func windowIsOurs() bool {
	if consoleProcesses.Find() != nil {
		return false
	}
	var ids [2]uint32
	n, _, _ := consoleProcesses.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}
