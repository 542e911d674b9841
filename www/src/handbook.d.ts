// What the handbook's plugin gives; see handbook/build/plugin.ts.

declare module 'virtual:handbook/en' {
  const chapters: readonly import('./places/handbook/chapter').Chapter[];
  export default chapters;
}

declare module 'virtual:handbook/de' {
  const chapters: readonly import('./places/handbook/chapter').Chapter[];
  export default chapters;
}

declare module 'virtual:handbook/shared' {
  const shared: import('./places/handbook/chapter').Shared;
  export default shared;
}
