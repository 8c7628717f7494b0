package xlsx

import (
	"path"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// contentTypes tells what a part is, by its name or by the ending of its name.
type contentTypes struct{ byPart, byEnding map[string]string }

func (t contentTypes) of(part string) string {
	if kind, ok := t.byPart[partKey(part)]; ok {
		return kind
	}
	return t.byEnding[strings.TrimPrefix(path.Ext(partKey(part)), ".")]
}

// readTypes reads [Content_Types].xml.
func (c *container) readTypes() (contentTypes, error) {
	t := contentTypes{byPart: map[string]string{}, byEnding: map[string]string{}}
	err := c.read("[Content_Types].xml", func(s *stream) error {
		if err := s.root(typeSpace, "Types"); err != nil {
			return err
		}
		for {
			more, err := s.child()
			if err != nil || !more {
				return err
			}
			kind, _ := s.attr("ContentType")
			if s.space == typeSpace && s.name == "Override" {
				name, _ := s.attr("PartName")
				t.byPart[partKey(name)] = kind
			} else if s.space == typeSpace && s.name == "Default" {
				ending, _ := s.attr("Extension")
				t.byEnding[strings.ToLower(ending)] = kind
			}
			if err := s.skip(); err != nil {
				return err
			}
		}
	})
	return t, err
}

// link is a relationship from one part to another. Kind is the last word of its type: worksheet, styles, comments.
type link struct{ kind, target string }

// links reads the relationships of a part; "" is the package itself. A part need not have any, except where must is
// set. Targets come back as part names.
func (c *container) links(part string, must bool) (map[string]link, []string, error) {
	dir, base := path.Split(part)
	name := dir + "_rels/" + base + ".rels"
	if c.find(name) == nil && !must {
		return nil, nil, nil
	}
	byID := map[string]link{}
	var order []string
	err := c.read(name, func(s *stream) error {
		if err := s.root(linkSpace, "Relationships"); err != nil {
			return err
		}
		for {
			more, err := s.child()
			if err != nil || !more {
				return err
			}
			if s.space != linkSpace || s.name != "Relationship" {
				return s.fault(finding.FileLayout, "the tag <%s> does not belong in a list of relationships", s.name)
			}
			id, _ := s.attr("Id")
			if _, twice := byID[id]; twice || id == "" {
				return s.fault(finding.FileLayout, "the relationship %q stands twice or has no name", id)
			}
			l, ok := s.link(dir)
			if ok {
				byID[id] = l
				order = append(order, id)
			}
			if err := s.skip(); err != nil {
				return err
			}
		}
	})
	return byID, order, err
}

// link reads one relationship; false when it leads out of the file or is of no kind a workbook's cells need.
func (s *stream) link(dir string) (link, bool) {
	mode, _ := s.attr("TargetMode")
	kind, _ := s.attr("Type")
	target, _ := s.attr("Target")
	for _, family := range []string{linkTransition, linkStrict} {
		if rest, ok := strings.CutPrefix(kind, family+"/"); ok && !strings.EqualFold(mode, "External") {
			target = strings.ReplaceAll(strings.TrimSpace(target), `\`, "/")
			if !strings.HasPrefix(target, "/") {
				target = dir + target
			}
			return link{rest, strings.TrimPrefix(path.Clean("/"+target), "/")}, true
		}
	}
	return link{}, false
}

// The content types of a workbook's main part (ECMA-376 Part 1, section 12.3, and the registered types of workbooks with
// macros; memory).
var workbookTypes = map[string]bool{
	"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml":    true,
	"application/vnd.openxmlformats-officedocument.spreadsheetml.template.main+xml": true,
	"application/vnd.ms-excel.sheet.macroenabled.main+xml":                          true,
	"application/vnd.ms-excel.template.macroenabled.main+xml":                       true,
	"application/vnd.ms-excel.addin.macroenabled.main+xml":                          true,
}

// mainPart finds the workbook's main part and refuses packages that are something else.
func (c *container) mainPart() (string, error) {
	if c.find("[Content_Types].xml") == nil {
		return "", sheet.Refuse(finding.FileOtherZip, c.file, "", finding.KindOf(finding.FileOtherZip).Meaning)
	}
	types, err := c.readTypes()
	if err != nil {
		return "", err
	}
	byID, order, err := c.links("", true)
	if err != nil {
		return "", err
	}
	main := ""
	for _, id := range order {
		if l := byID[id]; l.kind == "officeDocument" {
			if main != "" {
				return "", sheet.Refuse(finding.FileLayout, c.file, "_rels/.rels", "two main parts are named")
			}
			main = l.target
		}
	}
	kind := strings.ToLower(types.of(main))
	refuse := func(code finding.Code) (string, error) {
		return "", sheet.Refuse(code, c.file, "", finding.KindOf(code).Meaning)
	}
	switch {
	case main == "":
		return refuse(finding.FileOtherZip)
	case workbookTypes[kind]:
		return main, nil
	case strings.Contains(kind, "ms-excel.sheet.binary"):
		return refuse(finding.FileBinaryWorkbook)
	case strings.Contains(kind, "wordprocessingml"), strings.Contains(kind, "presentationml"),
		strings.Contains(kind, "ms-word"), strings.Contains(kind, "ms-powerpoint"), strings.Contains(kind, "ms-visio"):
		return refuse(finding.FileOtherOffice)
	case kind == "", kind == "application/xml", kind == "text/xml":
		return main, nil // not said: its first tag will tell
	}
	return refuse(finding.FileOtherZip)
}
