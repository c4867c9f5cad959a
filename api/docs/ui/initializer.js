"use strict";
window.addEventListener("load", function () {
  // in the order of use; what is not listed follows by its path
  var paths = ["/v1/estimates", "/v1/recommendations", "/v1/spindle-checks", "/v1/corrections", "/v1/materials", "/v1/tool-classes", "/v1/sources", "/v1/machines", "/v1/changes"];
  var methods = ["post", "get", "put", "delete"];
  function rank(operation) {
    var path = operation.get("path");
    var first = path.split("/").slice(0, 3).join("/");
    var group = paths.indexOf(first);
    return [
      group < 0 ? paths.length : group,
      first === path ? 0 : 1,
      path,
      methods.indexOf(operation.get("method")),
    ];
  }
  SwaggerUIBundle({
    url: "/openapi.json",
    dom_id: "#routes",
    deepLinking: true,
    docExpansion: "list",
    defaultModelsExpandDepth: 0,
    validatorUrl: null,
    operationsSorter: function (a, b) {
      var x = rank(a), y = rank(b);
      for (var i = 0; i < x.length; i++) {
        if (x[i] !== y[i]) {
          return x[i] < y[i] ? -1 : 1;
        }
      }
      return 0;
    },
  });
});
