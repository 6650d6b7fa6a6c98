// The import table of the house: each room may reach only the rooms listed beside it.
const rooms = {
  core: [],
  formats: ['core'],
  'formats-node': ['formats', 'core'],
  'formats-web': ['formats', 'core'],
  evidence: ['core', 'formats'],
  rehearsal: ['core', 'formats'],
  contract: ['core'],
  store: ['core', 'contract'],
  app: ['core', 'formats', 'formats-node', 'evidence', 'rehearsal', 'contract', 'store'],
  server: ['app', 'contract', 'core'],
  cli: ['app', 'contract', 'server', 'core'],
  web: ['contract', 'core', 'evidence', 'rehearsal', 'formats', 'formats-web'],
};
const notTests = { pathNot: '\\.test\\.tsx?$' };

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    ...Object.entries(rooms).map(([room, doors]) => ({
      name: `doors-of-${room}`,
      severity: 'error',
      from: { path: `^src/${room}/`, ...notTests },
      to: { path: '^src/', pathNot: [`^src/${room}/`, ...doors.map((door) => `^src/${door}/`)] },
    })),
    {
      name: 'core-npm',
      severity: 'error',
      from: { path: '^src/core/', ...notTests },
      to: { dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-no-pkg', 'core'], pathNot: 'node_modules/(fft\\.js|ml-matrix|ml-levenberg-marquardt)/' },
    },
    {
      name: 'pure-rooms-no-node',
      severity: 'error',
      from: { path: '^src/(formats|evidence|rehearsal|contract|web|formats-web)/', ...notTests },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'unresolved', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.tests.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default', 'types'] },
  },
};
