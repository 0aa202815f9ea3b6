import type { Plugin } from 'vite'

/**
 * Shaders of materials that no view uses, by file: physically based, toon, matcap, sprite, shadow. They are a tenth of
 * what three weighs. A test fails when a view begins to use such a material.
 */
export const LEFT_OUT: readonly RegExp[] = [
  /^mesh(physical|toon|matcap)$/,
  /^(sprite|shadow)$/,
  /^lights_(physical|toon)_/,
  /^(clearcoat|iridescence|transmission|roughnessmap|metalnessmap)_/,
  /^gradientmap_pars_fragment$/,
]

const SHADER = /\/three\/src\/renderers\/shaders\/.*\/(\w+)\.glsl\.js$/

/** A shader as it is compiled: without comments, indents and empty lines. Directives keep a line of their own. */
export const bareShader = (glsl: string): string =>
  `${glsl
    .replace(/\r/g, '')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/\/\/.*$/gm, '')
    .replace(/^[ \t]+|[ \t]+$/gm, '')
    .replace(/\n{2,}/g, '\n')
    .trim()}\n`

/**
 * Takes three from its single files, so that the first view gets only the classes it uses: of the one file that
 * packages the same, the bundler keeps all that any later view uses. What is left out does not compile and says so.
 */
export const lighterThree = (): Plugin => ({
  name: 'dogleg-lighter-three',
  apply: 'build',
  config: () => ({ resolve: { alias: [{ find: /^three$/, replacement: 'three/src/Three.js' }] } }),
  transform: {
    filter: { id: SHADER },
    handler(code, id) {
      const name = SHADER.exec(id)?.[1] ?? ''
      if (LEFT_OUT.some(left => left.test(name))) {
        const told = JSON.stringify(`#error ${name} is left out of the build: see lighterThree.ts\n`)
        return { code: `const left = ${told}\nexport { left as default, left as vertex, left as fragment }` }
      }
      return {
        code: code.replace(/\/\* glsl \*\/\s*`([^`]*)`/g, (_, glsl: string) => `\`${bareShader(glsl)}\``),
      }
    },
  },
})
