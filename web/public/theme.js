// Sets the theme before the first paint. A file of its own, because the page's policy allows no inline script.
;(() => {
  let theme = null
  try {
    theme = localStorage.getItem('theme')
  } catch {
    // storage may be refused; the page then follows the system
  }
  if (theme !== 'paper' && theme !== 'shed' && theme !== 'glare')
    theme = matchMedia('(prefers-color-scheme: dark)').matches ? 'shed' : 'paper'
  document.documentElement.dataset.theme = theme
})()
