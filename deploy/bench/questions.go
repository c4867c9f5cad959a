package main

// question is one request, asked again and again.
type question struct{ name, body string }

var questions = []question{
	{"drilling", `{"units":"metric","material":{"grade":"1.4301"},"operation":"drilling",
"tool":{"class":"drill-indexable","cutting_diameter":30,"effective_edges":1},
"engagement":{"hole_depth":60,"through":true},"parameters":{"cutting_speed":150,"feed_per_revolution":0.12}}`},
	{"face-milling", `{"units":"metric","material":{"grade":"1.4301"},"operation":"face-milling",
"tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6,"cutting_edge_angle":45},
"engagement":{"axial_depth":3,"radial_width":55},"parameters":{"cutting_speed":180,"feed_per_tooth":0.2}}`},
	{"turning", `{"units":"inch","material":{"grade":"1.4301"},"operation":"turning",
"tool":{"class":"turning-external","corner_radius":0.0315,"cutting_edge_angle":95},
"engagement":{"work_diameter":2.5,"depth_of_cut":0.1},"parameters":{"cutting_speed":500,"feed_per_revolution":0.01}}`},
}
