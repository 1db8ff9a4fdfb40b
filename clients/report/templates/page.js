document.documentElement.classList.add('js');
addEventListener('DOMContentLoaded', function () {
  function all(what) { return Array.prototype.slice.call(document.querySelectorAll(what)); }
  var buttons = all('button[data-c]');
  function show(name) {
    all('[data-c]').forEach(function (e) {
      var on = e.getAttribute('data-c') === name;
      if (e.tagName === 'BUTTON') e.setAttribute('aria-pressed', on);
      else e.classList.toggle(e.tagName.toUpperCase() === 'TR' ? 'now' : 'on', on);
    });
  }
  buttons.forEach(function (b) {
    b.addEventListener('click', function () {
      show(b.getAttribute('data-c'));
      history.replaceState(null, '', '#case-' + encodeURIComponent(b.getAttribute('data-c')));
    });
  });
  function follow() {
    var id = location.hash.slice(1), target = document.getElementById(id);
    if (target && target.tagName === 'DETAILS') target.open = true;
    buttons.forEach(function (b) {
      if (id === 'case-' + encodeURIComponent(b.getAttribute('data-c'))) show(b.getAttribute('data-c'));
    });
  }
  addEventListener('hashchange', follow);
  addEventListener('beforeprint', function () { all('details').forEach(function (d) { d.open = true; }); });
  follow();
});
