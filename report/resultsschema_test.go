package report

import (
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
)

// follows checks parsed JSON (numbers as json.Number) against the part of JSON Schema that results.schema.json uses. A word
// of the schema that it does not know is a problem too, so nothing goes unchecked.
func follows(root, schema map[string]any, value any, path string) []string {
	var problems []string
	say := func(format string, args ...any) {
		problems = append(problems, fmt.Sprintf("%s: ", "results"+path)+fmt.Sprintf(format, args...))
	}
	for word, rule := range schema {
		switch word {
		case "$schema", "$defs", "title", "description":
		case "$ref":
			name := strings.TrimPrefix(rule.(string), "#/$defs/")
			def, ok := root["$defs"].(map[string]any)[name].(map[string]any)
			if !ok {
				say("the schema has no definition %q", name)
				continue
			}
			problems = append(problems, follows(root, def, value, path)...)
		case "anyOf":
			ok := false
			var all []string
			for _, one := range rule.([]any) {
				p := follows(root, one.(map[string]any), value, path)
				ok = ok || len(p) == 0
				all = append(all, p...)
			}
			if !ok {
				problems = append(problems, all...)
			}
		case "type":
			types, many := rule.([]any)
			if !many {
				types = []any{rule}
			}
			if !slices.ContainsFunc(types, func(t any) bool { return isType(value, t.(string)) }) {
				say("got %v (%T), want %v", value, value, types)
			}
		case "enum":
			if value != nil && !slices.Contains(rule.([]any), value) {
				say("got %v, want one of %v", value, rule)
			}
		case "const":
			if fmt.Sprint(value) != fmt.Sprint(rule) {
				say("got %v, want %v", value, rule)
			}
		case "pattern":
			if s, ok := value.(string); ok && !regexp.MustCompile(rule.(string)).MatchString(s) {
				say("%q does not look like %s", s, rule)
			}
		case "items":
			if list, ok := value.([]any); ok {
				for i, v := range list {
					problems = append(problems, follows(root, rule.(map[string]any), v, fmt.Sprintf("%s[%d]", path, i))...)
				}
			}
		case "required":
			if m, ok := value.(map[string]any); ok {
				for _, k := range rule.([]any) {
					if _, there := m[k.(string)]; !there {
						say("key %q is missing", k)
					}
				}
			}
		case "properties":
			if m, ok := value.(map[string]any); ok {
				for k, v := range m {
					if p, known := rule.(map[string]any)[k]; known {
						problems = append(problems, follows(root, p.(map[string]any), v, path+"."+k)...)
					}
				}
			}
		case "additionalProperties":
			m, ok := value.(map[string]any)
			if !ok {
				continue
			}
			known, _ := schema["properties"].(map[string]any)
			for k, v := range m {
				if _, named := known[k]; named {
					continue
				}
				if others, ok := rule.(map[string]any); ok {
					problems = append(problems, follows(root, others, v, path+"."+k)...)
				} else if rule == false {
					say("key %q is not in the schema", k)
				}
			}
		default:
			say("the schema uses %q, which this check does not know", word)
		}
	}
	return problems
}

func isType(value any, name string) bool {
	switch name {
	case "null":
		return value == nil
	case "integer":
		n, ok := value.(json.Number)
		return ok && !strings.ContainsAny(n.String(), ".eE")
	case "number":
		_, ok := value.(json.Number)
		return ok
	}
	kinds := map[string]reflect.Kind{"object": reflect.Map, "array": reflect.Slice, "string": reflect.String, "boolean": reflect.Bool}
	_, isNumber := value.(json.Number)
	return value != nil && !isNumber && reflect.TypeOf(value).Kind() == kinds[name]
}
