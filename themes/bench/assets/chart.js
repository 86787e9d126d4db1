/* Turns a drawing into a chart that answers to the pointer, when it comes near the view.
   The drawing stays where this cannot run, and on paper. */
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

  function dressed(layout) {
    var ink = colour("--ink"), hair = colour("--hair"), rule = colour("--rule");
    var whole = JSON.parse(JSON.stringify(layout));
    whole.font = { color: ink, size: 12, family: getComputedStyle(document.querySelector(".head")).fontFamily };
    whole.hoverlabel = { bgcolor: colour("--paper"), bordercolor: rule, font: { color: ink } };
    Object.keys(whole).forEach(function (key) {
      if (/^[xy]axis/.test(key)) {
        whole[key].gridcolor = hair;
        whole[key].linecolor = rule;
        whole[key].zerolinecolor = rule;
      }
    });
    return whole;
  }

  function draw(plot) {
    var figure = JSON.parse(document.getElementById(plot.dataset.chart).textContent);
    var place = document.createElement("div");
    var scheme = matchMedia("(prefers-color-scheme: dark)");
    var options = { responsive: true, displaylogo: false, displayModeBar: false };
    plot.appendChild(place);
    load().then(function () {
      return window.Plotly.newPlot(place, figure.data, dressed(figure.layout), options);
    }).then(function () {
      plot.classList.add("live");
      window.Plotly.Plots.resize(place);
      scheme.addEventListener("change", function () {
        window.Plotly.react(place, figure.data, dressed(figure.layout), options);
      });
    }).catch(function () {
      place.remove();
    });
  }

  if (!("IntersectionObserver" in window) || !window.Promise) { return; }
  var near = new IntersectionObserver(function (seen) {
    seen.forEach(function (one) {
      if (one.isIntersecting) {
        near.unobserve(one.target);
        draw(one.target);
      }
    });
  }, { rootMargin: "300px" });
  plots.forEach(function (plot) { near.observe(plot); });
})();
