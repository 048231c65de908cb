// A page for developers: reads the schema by introspection and runs documents.
const at = (id) => document.getElementById(id)

async function ask(query, variables) {
  const key = at('key').value.trim()
  const answer = await fetch('/graphql', {
    method: 'POST',
    credentials: key ? 'omit' : 'same-origin',
    headers: { 'Content-Type': 'application/json', 'X-Boottop': '1', ...(key ? { Authorization: `Bearer ${key}` } : {}) },
    body: JSON.stringify({ query, variables }),
  })
  return { status: answer.status, said: await answer.json() }
}

async function run() {
  try {
    const { status, said } = await ask(at('document').value, JSON.parse(at('variables').value || '{}'))
    at('answer').textContent = `${status}\n${JSON.stringify(said, null, 1)}`
  } catch (error) {
    at('answer').textContent = String(error)
  }
}

const typeName = (t) => (t.kind === 'NON_NULL' ? `${typeName(t.ofType)}!` : t.kind === 'LIST' ? `[${typeName(t.ofType)}]` : t.name)

const part = `name description type { ...T } defaultValue`
const introspection = `query Schema { __schema { types { kind name description
  fields { name description args { ${part} } type { ...T } } inputFields { ${part} } enumValues { name description } } } }
  fragment T on __Type { kind name ofType { kind name ofType { kind name ofType { kind name } } } }`

function element(tag, text, ...children) {
  const made = document.createElement(tag)
  if (text) made.textContent = text
  made.append(...children)
  return made
}

function shown(type) {
  const list = element('dl')
  for (const f of [...(type.fields ?? []), ...(type.inputFields ?? []), ...(type.enumValues ?? [])]) {
    const args = f.args?.length ? `(${f.args.map((a) => `${a.name}: ${typeName(a.type)}`).join(', ')})` : ''
    list.append(element('dt', '', element('code', `${f.name}${args}${f.type ? `: ${typeName(f.type)}` : ''}`)), element('dd', f.description))
  }
  return element('article', '', element('h2', `${type.kind.toLowerCase()} ${type.name}`), element('p', type.description), list)
}

let types = []
function draw() {
  const wanted = at('find').value.trim().toLowerCase()
  const fits = (t) => !wanted || t.name.toLowerCase().includes(wanted) || t.fields?.some((f) => f.name.toLowerCase().includes(wanted))
  at('schema').replaceChildren(...types.filter(fits).map(shown))
}

async function begin() {
  const { said } = await ask(introspection)
  if (!said.data) {
    at('schema').textContent = said.errors?.[0]?.message ?? 'No answer.'
    return
  }
  types = said.data.__schema.types.filter((t) => !t.name.startsWith('__'))
  draw()
}

at('run').addEventListener('click', run)
at('find').addEventListener('input', draw)
document.addEventListener('keydown', (event) => {
  if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) run()
})
begin()
