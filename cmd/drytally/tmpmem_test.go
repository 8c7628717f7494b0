package main
import ("os";"testing";"runtime";"runtime/pprof";"fmt";"unsafe"
"drytally/ingest";"drytally/compute";"drytally/ingest/sheet";"drytally/ingest/bind")
func stage(n string) {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	fmt.Printf("%s live %d MB, total alloc %d MB, sys %d\n", n, m.HeapAlloc>>20, m.TotalAlloc>>20, m.Sys>>20)
	f,_ := os.Create("/tmp/reading/"+n+".heap"); pprof.Lookup("heap").WriteTo(f,0); f.Close()
}
func TestMem(t *testing.T) {
	name := os.Getenv("BOOK")
	fmt.Println("reading", unsafe.Sizeof(compute.Reading{}), "board", unsafe.Sizeof(compute.Board{}), "boardresult", unsafe.Sizeof(compute.BoardResult{}), "cell", unsafe.Sizeof(sheet.Cell{}), "fate", unsafe.Sizeof(compute.RowFate{}))
	data,_ := os.ReadFile(name)
	book, err := ingest.Open(name, data)
	if err != nil { t.Fatal(err) }
	stage("open")
	f,_ := os.Create("/tmp/reading/mem.cpu"); pprof.StartCPUProfile(f)
	job := bind.Bind("big", []*sheet.Workbook{book})
	stage("bind")
	runtime.KeepAlive(book)
	book, data = nil, nil
	stage("bound")
	r := compute.Assess(job)
	stage("assess")
	pprof.StopCPUProfile()
	runtime.KeepAlive(r)
}
