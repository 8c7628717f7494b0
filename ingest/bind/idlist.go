package bind

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
)

// mostIDs is how many boards one list may name: a longer run is a slip of the keyboard.
const mostIDs = 2000

var (
	idRun = regexp.MustCompile(`^(.*?)(\d+)\s*(?:-|–|—|\bto\b|\bthru\b|\bthrough\b|\.\.+)\s*(.*?)(\d+)$`)
	idAnd = regexp.MustCompile(`(?i)\s+(?:and|&|\+|plus)\s+`)
	// idBut parts a list from the boards that are not of it: A01-A12 except A07.
	idBut = regexp.MustCompile(`(?i)[\s,(]*\b(?:except(?: for)?|without|but not|not|less|minus|excl(?:uding|\.)?)\b[:\s]*`)
	// idWord is one board number among others parted by blanks or strokes: letters or a dash before its digits.
	idWord    = regexp.MustCompile(`^([\pL][\pL\-]*)\d+[a-z]?$`)
	countOnly = regexp.MustCompile(`(?i)^(\d{1,5})\s*(?:boards?|bds?|pcs?|pieces?)\.?$`)
	wholeLoad = regexp.MustCompile(`(?i)^(?:all|all boards|all of it|whole load|the whole load|whole|everything|entire load|all of load)$`)
)

// allBoards stands in a sale for every board of its load until all boards are known.
const allBoards = "\x00all"

// idList reads board numbers apart by commas, semicolons, "and" or line breaks, also by blanks or strokes where all have one
// form; A01-A12 is a run, and "except A07" takes a board out of what stands before it.
func idList(s string) ([]string, error) {
	s = strings.TrimSpace(strings.ReplaceAll(s, "\x00", "")) // the marks above are ours alone
	if parts := idBut.Split(s, 2); len(parts) == 2 && parts[0] != "" {
		ids, err := idList(strings.TrimSpace(parts[0]))
		if err != nil {
			return nil, err
		}
		out, err := idList(strings.TrimRight(parts[1], ") "))
		if err != nil {
			return nil, err
		}
		ids, out = asRuns(ids), asRuns(out) // what a board is taken out of is a run
		if slices.Equal(ids, []string{allBoards}) {
			return nil, fmt.Errorf("%q leaves boards out of a whole load; name the boards sold", s)
		}
		for _, o := range out {
			i := slices.IndexFunc(ids, func(id string) bool { return strings.EqualFold(id, o) })
			if i < 0 {
				return nil, fmt.Errorf("%q takes out board %q, which is not in the list before it", s, o)
			}
			ids = slices.Delete(ids, i, i+1)
		}
		if len(ids) == 0 {
			return nil, fmt.Errorf("%q names no board", s)
		}
		return ids, nil
	}
	if wholeLoad.MatchString(s) {
		return []string{allBoards}, nil
	}
	var ids []string
	s = idAnd.ReplaceAllString(s, ",")
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if several := sameForm(part); several != nil {
			ids = append(ids, several...)
			continue
		}
		m := idRun.FindStringSubmatch(part)
		if m == nil {
			ids = append(ids, part)
			continue
		}
		head, tail := strings.TrimSpace(m[1]), strings.TrimSpace(m[3])
		from, err1 := strconv.Atoi(m[2])
		to, err2 := strconv.Atoi(m[4])
		if err1 != nil || err2 != nil || tail != "" && !strings.EqualFold(head, tail) {
			return nil, fmt.Errorf("%q is not a list of board numbers that can be read one way", part)
		}
		switch {
		case to < from && tail == "" && head != "":
			ids = append(ids, part) // K14-01 is one board
		case to < from || to-from >= mostIDs:
			return nil, fmt.Errorf("the run %q does not go upward or is longer than %d", part, mostIDs)
		case tail == "" && isDash(part[len(m[1])+len(m[2]):]):
			ids = append(ids, mayBeRun+part) // K14-20 is one board or seven: the boards known settle it
		default:
			ids = append(ids, expandRun(m[1], len(m[2]), from, to)...)
		}
		if len(ids) > mostIDs {
			break
		}
	}
	if len(ids) == 0 {
		return nil, fmt.Errorf("%q names no board", s)
	}
	if len(ids) > mostIDs {
		return nil, fmt.Errorf("%q names more than %d boards", s, mostIDs)
	}
	return ids, nil
}

// mayBeRun stands in front of a text that may be one board's number or a run of boards, until all boards are known.
const mayBeRun = "\x00run:"

// isDash reports whether a run is written with a bare dash, as a board's number may be.
func isDash(s string) bool { return strings.HasPrefix(s, "-") || strings.HasPrefix(s, "–") }

func expandRun(head string, width, from, to int) []string {
	var ids []string
	for n := from; n <= to; n++ {
		ids = append(ids, fmt.Sprintf("%s%0*d", head, width, n))
	}
	return ids
}

// asRuns takes every text that may be a run as one.
func asRuns(ids []string) []string {
	var all []string
	for _, id := range ids {
		part, ok := strings.CutPrefix(id, mayBeRun)
		if !ok {
			all = append(all, id)
			continue
		}
		m := idRun.FindStringSubmatch(part)
		from, _ := strconv.Atoi(m[2])
		to, _ := strconv.Atoi(m[4])
		all = append(all, expandRun(m[1], len(m[2]), from, to)...)
	}
	return all
}

// settleRuns makes one board or a run of every text that may be either. When both are known boards the sale is not read.
func (b *binder) settleRuns() {
	unsettled := func(id string) bool { return strings.HasPrefix(id, mayBeRun) }
	if !slices.ContainsFunc(b.job.Sales, func(s compute.Sale) bool { return slices.ContainsFunc(s.Boards, unsettled) }) {
		return
	}
	boards := map[string]bool{}
	for i := range b.job.Boards {
		boards[compute.IDKey(b.job.Boards[i].ID)] = true
	}
	for i := range b.job.Readings {
		boards[compute.IDKey(b.job.Readings[i].Board)] = true
	}
	known := func(id string) bool { return boards[compute.IDKey(id)] }
	for i := range b.job.Sales {
		s := &b.job.Sales[i]
		var ids []string
		for _, id := range s.Boards {
			part, ok := strings.CutPrefix(id, mayBeRun)
			if !ok {
				ids = append(ids, id)
				continue
			}
			run := asRuns([]string{id})
			switch one, any := known(part), slices.ContainsFunc(run, known); {
			case one && any:
				b.job.Findings.Add("T013", s.Origin.At("boards"), part, "write the numbers one by one", "%q is a board's number, and also a run of boards that are known", part)
				compute.SetRowAside(b.job.Accounts, s.Origin.At(""), "board numbers that can be read two ways")
				ids, s.Pieces = nil, 0
			case one:
				ids = append(ids, part)
			default:
				ids = append(ids, run...)
			}
			if ids == nil {
				break
			}
		}
		s.Boards = ids
	}
}

// sameForm parts "A01 A02 A05" and "A01/A02/A05" where every word is the same letters with a number behind.
func sameForm(part string) []string {
	words := strings.FieldsFunc(part, func(r rune) bool { return r == ' ' || r == '/' || r == '+' || r == '\u00a0' })
	if len(words) < 2 {
		return nil
	}
	head := ""
	for i, w := range words {
		m := idWord.FindStringSubmatch(w)
		if m == nil || i > 0 && !strings.EqualFold(m[1], head) {
			return nil
		}
		head = m[1]
	}
	return words
}

// piecesAlone reads "12 boards" where board numbers could stand.
func piecesAlone(s string) (int, bool) {
	m := countOnly.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, false
	}
	n, err := strconv.Atoi(m[1])
	return n, err == nil && n > 0
}

// wholeLoads puts the boards of a load in place of "all" in a sale, now that all boards are known.
func (b *binder) wholeLoads() {
	for i := range b.job.Sales {
		s := &b.job.Sales[i]
		if len(s.Boards) == 0 && s.Pieces == 0 {
			continue
		}
		if !slices.Equal(s.Boards, []string{allBoards}) {
			continue
		}
		load := s.Load
		if load == "" && len(b.job.Loads) == 1 {
			load = b.job.Loads[0].ID
		}
		s.Boards = nil
		if load != "" {
			for _, board := range b.job.Boards {
				if compute.SameID(board.Load, load) || board.Load == "" && len(b.job.Loads) == 1 {
					s.Boards = append(s.Boards, board.ID)
				}
			}
			for _, l := range b.job.Loads {
				if compute.SameID(l.ID, load) && len(s.Boards) == 0 {
					s.Pieces = max(s.Pieces, l.Boards)
				}
			}
		}
		if len(s.Boards) == 0 && s.Pieces == 0 {
			b.job.Findings.Add("T013", s.Origin.At("boards"), "all", "write the load beside it, or the numbers of the boards", "sale %q takes all boards, but of which load is not known", s.ID)
			compute.SetRowAside(b.job.Accounts, s.Origin.At(""), "boards of no known load")
		}
	}
	b.job.Sales = slices.DeleteFunc(b.job.Sales, func(s compute.Sale) bool { return len(s.Boards) == 0 && s.Pieces == 0 })
}
