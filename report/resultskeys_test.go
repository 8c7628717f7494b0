package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// neverWritten are keys that only another place of the same object can have: the reason of a piece that took no part, its
// size, and the piece that a whole divided board would be.
var neverWritten = map[string]bool{".fit.pieces.why": true, ".fit.no_part.cut_width": true, ".fit.plan.boards.whole.piece": true}

// Every key that the schema knows is given a value somewhere in the filled week, so none is documented and never written.
func TestEveryKeyIsWritten(t *testing.T) {
	schema := resultsSchemaOf(t)
	_, parsed := resultsOf(t, filledResult())
	seen := map[string]bool{}
	reached(parsed, "", seen)
	var missing []string
	for _, path := range schemaPaths(schema, schema, "", 0) {
		if !seen[path] {
			missing = append(missing, path)
		}
	}
	for _, path := range missing {
		if neverWritten[path] {
			continue
		}
		if !slices.ContainsFunc(missing, func(p string) bool { return p != path && strings.HasPrefix(path, p) }) {
			t.Errorf("the filled week gives no value to %s", path)
		}
	}
}

// reached notes the path of every value that is there.
func reached(v any, path string, seen map[string]bool) {
	switch v := v.(type) {
	case nil:
		return
	case map[string]any:
		for k, x := range v {
			reached(x, path+"."+k, seen)
		}
	case []any:
		for _, x := range v {
			reached(x, path, seen)
		}
	}
	seen[path] = true
}

// schemaPaths lists the paths a schema knows. A rectangle of a board holds rectangles: two levels of it are enough.
func schemaPaths(root, schema map[string]any, path string, depth int) []string {
	if ref, ok := schema["$ref"].(string); ok {
		if ref == "#/$defs/part" {
			depth++
		}
		if depth > 2 {
			return nil
		}
		return schemaPaths(root, root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any), path, depth)
	}
	var paths []string
	if either, ok := schema["anyOf"].([]any); ok {
		for _, one := range either {
			paths = append(paths, schemaPaths(root, one.(map[string]any), path, depth)...)
		}
	}
	if items, ok := schema["items"].(map[string]any); ok {
		paths = append(paths, schemaPaths(root, items, path, depth)...)
	}
	if properties, ok := schema["properties"].(map[string]any); ok {
		for k, p := range properties {
			paths = append(paths, path+"."+k)
			paths = append(paths, schemaPaths(root, p.(map[string]any), path+"."+k, depth)...)
		}
	}
	slices.Sort(paths)
	return slices.Compact(paths)
}

// Every object of the schema requires each of its keys, refuses others, and says what each is.
func TestSchemaDescribesEveryKey(t *testing.T) {
	root := resultsSchemaOf(t)
	var walk func(v any, path string)
	walk = func(v any, path string) {
		m, ok := v.(map[string]any)
		if !ok {
			if list, many := v.([]any); many {
				for i, x := range list {
					walk(x, fmt.Sprintf("%s[%d]", path, i))
				}
			}
			return
		}
		if properties, ok := m["properties"].(map[string]any); ok && path != ".properties" {
			required := map[string]bool{}
			for _, k := range m["required"].([]any) {
				if required[k.(string)] {
					t.Errorf("%s: key %s is required twice", path, k)
				}
				required[k.(string)] = true
				if properties[k.(string)] == nil {
					t.Errorf("%s: key %s is required and not described", path, k)
				}
			}
			for k, p := range properties {
				if !required[k] {
					t.Errorf("%s: key %s is not required", path, k)
				}
				if !described(root, p.(map[string]any)) {
					t.Errorf("%s: nothing says what key %s is", path, k)
				}
			}
			if m["additionalProperties"] != false {
				t.Errorf("%s: unknown keys are not refused", path)
			}
		}
		for k, x := range m {
			if k != "required" && k != "enum" {
				walk(x, path+"."+k)
			}
		}
	}
	walk(root, "")
}

func described(root, p map[string]any) bool {
	if words, ok := p["description"].(string); ok && words != "" {
		return true
	}
	if ref, ok := p["$ref"].(string); ok {
		return described(root, root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any))
	}
	if either, ok := p["anyOf"].([]any); ok {
		return described(root, either[0].(map[string]any))
	}
	return false
}
