export const stallWords = {
  about: '',
};
