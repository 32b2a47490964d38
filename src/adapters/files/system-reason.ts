const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  ENOTDIR: 'a part of that path is a file',
  EISDIR: 'a folder has that name',
  EACCES: 'you have no permission there',
  EPERM: 'you have no permission there',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is full',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'the name is too long',
  EIO: 'the disk does not answer rightly',
}

/** Why a file could not be read or written, in words; the system's own code where there are none for it. */
export const systemReason = (error: unknown): string => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason'
  return reasons[code] ?? code
}
