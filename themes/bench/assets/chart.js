/* Turns a drawing into a chart that answers to the pointer, when it comes into view: the large
   script behind it is asked for then, and once. The drawing stays where this cannot run, and on
   paper. */
(function () {
  "use strict";
  var plots = document.querySelectorAll("[data-chart]");
  var own = document.currentScript;
  var loading = null;

  function load() {
    loading = loading || new Promise(function (done, failed) {
      var script = document.createElement("script");
      script.src = own.src.replace(/chart\.js([?#].*)?$/, "plotly.min.js");
      script.onload = done;
      script.onerror = failed;
      document.head.appendChild(script);
    });
    return loading;
  }

  function colour(name) {
    return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  }

  /* The layout in the page's own colours and at the size of its drawing. */
  function dressed(layout, drawing) {
    var ink = colour("--ink"), soft = colour("--soft"), hair = colour("--hair");
    var whole = JSON.parse(JSON.stringify(layout));
    var box = drawing.getBoundingClientRect(), scale = box.width / layout.width;
    whole.width = box.width;
    whole.height = box.height;
    Object.keys(whole.margin).forEach(function (side) { whole.margin[side] *= scale; });
    whole.font = { color: ink, size: Math.max(12, 10 * scale), family: getComputedStyle(drawing).fontFamily };
    whole.hoverlabel = { bgcolor: colour("--paper"), bordercolor: colour("--rule"), font: { color: ink }, align: "left" };
    whole.annotations.forEach(function (note) {
      note.xshift = (note.xshift || 0) * scale;
      note.yshift = (note.yshift || 0) * scale;
    });
    whole.shapes.forEach(function (shape) { shape.line.color = soft; });
    Object.keys(whole).forEach(function (key) {
      if (/^[xy]axis/.test(key)) {
        whole[key].gridcolor = hair;
        whole[key].tickfont = { color: soft };
      }
    });
    return whole;
  }

  /* What is drawn, with marks as large as those of the drawing, and doubts in the ink of the page. */
  function marked(data, scale) {
    var ink = colour("--ink"), whole = JSON.parse(JSON.stringify(data));
    whole.forEach(function (trace) {
      if (trace.type === "bar") {
        if (trace.error_x) { trace.error_x.color = ink; }
      } else {
        trace.marker.size *= scale;
      }
    });
    return whole;
  }

  function draw(plot) {
    var figure = JSON.parse(document.getElementById(plot.dataset.chart).textContent);
    var drawing = plot.querySelector("svg");
    var place = document.createElement("div");
    var options = { displayModeBar: false, doubleClick: false };
    place.className = "live-figure";
    place.setAttribute("aria-hidden", "true");

    function again() {
      var layout = dressed(figure.layout, drawing);
      var data = marked(figure.data, layout.width / figure.layout.width);
      return window.Plotly.react(place, data, layout, options);
    }

    load().then(function () {
      plot.appendChild(place);
      return again();
    }).then(function () {
      plot.classList.add("live");
      matchMedia("(prefers-color-scheme: dark)").addEventListener("change", again);
      new ResizeObserver(again).observe(plot);
    }).catch(function () {
      place.remove();
    });
  }

  if (!("IntersectionObserver" in window) || !window.Promise || !window.ResizeObserver) { return; }
  var near = new IntersectionObserver(function (seen) {
    seen.forEach(function (one) {
      if (one.isIntersecting) {
        near.unobserve(one.target);
        draw(one.target);
      }
    });
  });
  plots.forEach(function (plot) { near.observe(plot); });
})();
