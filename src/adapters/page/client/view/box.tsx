import type { ComponentChildren } from 'preact'
import { useEffect, useId, useRef } from 'preact/hooks'

/** A question that comes before everything else. The browser's own dialog keeps the focus inside and gives it back. */
export const Box = ({ title, close, children }: { readonly title: string; readonly close?: () => void; readonly children: ComponentChildren }) => {
  const box = useRef<HTMLDialogElement>(null)
  const id = useId()
  useEffect(() => {
    box.current?.showModal()
  }, [])
  return (
    <dialog ref={box} class="box" aria-labelledby={id} onCancel={(event) => { if (close) close(); else event.preventDefault() }}>
      <h2 id={id}>{title}</h2>
      {children}
      {close && <button type="button" onClick={close}>Close</button>}
    </dialog>
  )
}
