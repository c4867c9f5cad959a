package data

import (
	"bufio"
	"encoding/csv"
	"io/fs"
	"path"
	"strconv"
	"strings"
)

// Place is where a row stands.
type Place struct {
	File string
	Line int
}

// String is file:line.
func (p Place) String() string { return p.File + ":" + strconv.Itoa(p.Line) }

// Places finds the rows of the embedded files by kind and id, "force force-c45e-…"; a
// designation's id is its material, standard and value, that of a row of the hardness
// table its position ("row 1").
func Places() (map[string]Place, error) {
	names, err := fileNames(files)
	if err != nil {
		return nil, err
	}
	places := map[string]Place{}
	for _, name := range names {
		t, err := anyTable(files, name)
		if err != nil {
			return nil, err
		}
		for i, r := range t.Rows {
			for _, id := range idsOf(name, i, r) {
				places[id] = Place{name, r.Line}
			}
		}
		if err := t.Err(); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// kinds are what the files hold.
var kinds = map[string]string{"sources.csv": "source", "materials.csv": "material", "conditions.csv": "condition", "physical.csv": "physical",
	"classes.csv": "class", "demo/machines.csv": "machine", "force": "force", "starting": "starting", "life": "life"}

// idsOf are the kind and id of each record that a row becomes.
func idsOf(name string, position int, r *Row) []string {
	switch name {
	case "designations.csv":
		return []string{"designation " + r.Text("material") + " " + r.Text("standard") + " " + r.Text("value")}
	case "hardness.csv":
		return []string{"hardness row " + strconv.Itoa(position+1)}
	case "class_properties.csv", "demo/ratings.csv":
		return nil
	}
	kind := kinds[name]
	if kind == "" {
		kind = kinds[path.Dir(name)]
	}
	id := kind + " " + r.Text("id")
	ids := []string{id}
	switch kind {
	case "starting":
		if keys := r.List("keys"); len(keys) > 1 {
			ids = nil
			for _, key := range keys {
				ids = append(ids, keyedID(id, key))
			}
		}
	case "physical":
		for _, p := range properties {
			ids = append(ids, id+"-"+p.name)
		}
	}
	return ids
}

// keyedID is the id of a record that stands for one of several keys of its row.
func keyedID(id, key string) string {
	return id + "-" + strings.ToLower(strings.ReplaceAll(key, "/", "-"))
}

// fileNames lists the data files.
func fileNames(files fs.FS) ([]string, error) {
	var names []string
	for _, pattern := range []string{"*.csv", "*/*.csv"} {
		found, err := fs.Glob(files, pattern)
		if err != nil {
			return nil, err
		}
		names = append(names, found...)
	}
	return names, nil
}

// anyTable reads a file with whatever columns it has.
func anyTable(files fs.FS, name string) (*Table, error) {
	file, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() && strings.HasPrefix(lines.Text(), "#") {
	}
	header, err := csv.NewReader(strings.NewReader(lines.Text())).Read()
	if err != nil {
		return nil, err
	}
	return ReadTable(files, name, header...)
}
