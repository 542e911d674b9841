export const handWords = {
  about: '',
};
