import { readdirSync, readFileSync } from 'node:fs'
import { ShaderChunk, ShaderLib } from 'three'
import { expect, test } from 'vitest'
import { bareShader, LEFT_OUT } from '../src/lighterThree.ts'

const top = new URL('../', import.meta.url)
const shaders = new URL('node_modules/three/src/renderers/shaders/', top)
const names = ['ShaderChunk/', 'ShaderLib/'].flatMap(folder =>
  readdirSync(new URL(folder, shaders)).map(file => file.replace('.glsl.js', '')),
)
const isLeftOut = (name: string) => LEFT_OUT.some(left => left.test(name))
/** Three's own names of the materials, in ShaderLib, whose shaders are left out. */
const NOT_DRAWN = ['standard', 'physical', 'toon', 'matcap', 'sprite', 'shadow']

test('every rule for what is left out of three still finds a shader there', () => {
  for (const left of LEFT_OUT)
    expect(
      names.filter(name => left.test(name)),
      String(left),
    ).not.toEqual([])
})

test('no shader that stays takes in a part that is left out', () => {
  const parts: Readonly<Record<string, string>> = ShaderChunk
  const wrong: string[] = []
  const walk = (glsl: string, from: string) => {
    for (const [, part] of glsl.matchAll(/^[ \t]*#include +<([\w\d./]+)>/gm)) {
      if (isLeftOut(part!)) wrong.push(`${from} takes in ${part}`)
      else walk(parts[part!] ?? '', from)
    }
  }
  const drawn = Object.entries(ShaderLib).filter(([material]) => !NOT_DRAWN.includes(material))
  expect(drawn.map(([material]) => material)).toEqual(
    expect.arrayContaining(['basic', 'lambert', 'phong', 'points']),
  )
  for (const [material, shader] of drawn) {
    walk(shader.vertexShader, material)
    walk(shader.fragmentShader, material)
  }
  expect(wrong).toEqual([])
})

test('no view uses a material whose shader is left out', () => {
  const sources = readdirSync(new URL('src/', top), { recursive: true, encoding: 'utf8' })
    .filter(file => /\.tsx?$/.test(file))
    .map(file => ({ file, text: readFileSync(new URL(`src/${file}`, top), 'utf8') }))
  const materials = /\b(Mesh(Standard|Physical|Toon|Matcap)|Sprite|Shadow)Material\b/i
  expect(sources.filter(({ text }) => /MeshLambertMaterial/.test(text)).length).toBeGreaterThan(0)
  expect(sources.filter(({ text }) => materials.test(text)).map(({ file }) => file)).toEqual([])
})

test('a bare shader keeps every word and the line of every directive', () => {
  const words = (glsl: string) => glsl.split(/\s+/).filter(Boolean)
  const bare = bareShader('\n\t// why\n\t#ifdef A /* b\n c */\n\n\t\tfloat a = 1.0; // d\r\n\t#endif\n')
  expect(bare).toBe('#ifdef A\nfloat a = 1.0;\n#endif\n')
  for (const [name, glsl] of Object.entries(ShaderChunk)) {
    const plain = glsl.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, ' ')
    expect(words(bareShader(glsl)), name).toEqual(words(plain))
    for (const line of bareShader(glsl).split('\n'))
      if (line.includes('#')) expect(line.startsWith('#'), `${name}: ${line}`).toBe(true)
  }
})
