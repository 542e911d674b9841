export const handbookWords = {
  about: '',
};
