package wire

import (
	"bytes"
	"encoding/json"
	"net/url"
	"reflect"
	"strings"
)

// FlatQuery writes a JSON body of a request type as the query parameters that DecodeQuery
// reads to the same request. It is false where the body holds what a query cannot: a list
// of objects, a machine that is sent whole, a null.
func FlatQuery(body []byte, request reflect.Type) (url.Values, bool) {
	decoder := json.NewDecoder(bytes.NewReader(body))
	decoder.UseNumber() // digits stay as they were sent
	var whole map[string]any
	if decoder.Decode(&whole) != nil {
		return nil, false
	}
	names := map[string]string{}
	for name, path := range FlatNames(request) {
		names[path] = name
	}
	values := url.Values{}
	return values, flattenInto(whole, "", names, values)
}

func flattenInto(object map[string]any, prefix string, names map[string]string, into url.Values) bool {
	for member, v := range object {
		path := prefix + member
		if inner, ok := v.(map[string]any); ok {
			if _, value := names[path]; value || !flattenInto(inner, path+".", names, into) {
				return false
			}
			continue
		}
		text, ok := flatText(v)
		if name := names[path]; !ok || name == "" || text == "" {
			return false
		} else {
			into.Set(name, text)
		}
	}
	return true
}

// flatText is a value as a query has it. A list of words with a comma in one has no form.
func flatText(v any) (string, bool) {
	switch v := v.(type) {
	case string:
		return v, true
	case json.Number:
		return v.String(), !strings.ContainsAny(v.String(), "eE")
	case bool:
		if v {
			return "true", true
		}
		return "false", true
	case []any:
		words := make([]string, len(v))
		for i := range v {
			word, ok := v[i].(string)
			if !ok || word == "" || strings.Contains(word, ",") || strings.TrimSpace(word) != word {
				return "", false
			}
			words[i] = word
		}
		return strings.Join(words, ","), true
	}
	return "", false
}
