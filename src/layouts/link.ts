/** The address of a page of this site under whatever base path it is hosted: `link("/lessons/")`. */
export function link(path: string): string {
  return import.meta.env.BASE_URL.replace(/\/$/, "") + path;
}
