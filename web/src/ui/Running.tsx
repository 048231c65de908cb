import { type ReactNode, useEffect } from 'react'
import { NavLink } from 'react-router'

export interface Tab {
  to: string
  name: ReactNode
  end?: boolean
}

/** The running head: the matter large, one line of identity, its own leaves at the right. */
export function Running({
  title,
  page,
  children,
  tabs,
  tabsLabel,
  right,
}: {
  title: ReactNode
  /** What the browser calls the page; the title itself where that is a word. */
  page?: string
  children?: ReactNode
  tabs?: readonly Tab[]
  tabsLabel?: string
  right?: ReactNode
}) {
  const name = page ?? (typeof title === 'string' ? title : 'Boottop')
  useEffect(() => {
    document.title = `${name} · Boottop`
  }, [name])
  return (
    <header className="running">
      <h1>{title}</h1>
      {children && <p>{children}</p>}
      {tabs && (
        <nav className="tabs push" aria-label={tabsLabel ?? name}>
          {tabs.map((tab) => (
            <NavLink key={tab.to} to={tab.to} end={tab.end ?? true}>
              {tab.name}
            </NavLink>
          ))}
        </nav>
      )}
      {right && <div className="push">{right}</div>}
    </header>
  )
}
