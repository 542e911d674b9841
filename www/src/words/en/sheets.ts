export const sheetsWords = {
  about: '',
};
