"use strict";
window.addEventListener("load", function () {
  SwaggerUIBundle({
    url: "/openapi.json",
    dom_id: "#routes",
    deepLinking: true,
    docExpansion: "list",
    defaultModelsExpandDepth: 0,
    validatorUrl: null,
  });
});
